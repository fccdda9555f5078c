// `npm run -s leaks -- WORKING.ppm [FULL.ppm]` or `-- --list LIST.json`: finds bright points as the phone does, prints JSON.
import { run, sayWhenStopped } from "./load.mjs";

sayWhenStopped();
await run("leaks");
