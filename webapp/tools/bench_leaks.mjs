// `node tools/bench_leaks.mjs FOLDER`: bundles the phone's leak finder as bench.js for the backend's benchmark in a browser.
import { bundle } from "./load.mjs";

await bundle("bench_leaks_page", process.argv[2]);
