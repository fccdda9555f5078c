// `node tools/bench_timing.mjs measure LIST.json` or `... bundle FOLDER`: the phone's timing engine for the backend's benchmarks.
import { bundle, load } from "./load.mjs";

const [what, path] = process.argv.slice(2);
if (what === "measure") (await load("bench_timing")).measureAll(path);
else await bundle("bench_page", path);
