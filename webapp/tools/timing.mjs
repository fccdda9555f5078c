// `npm run -s timing -- FILE [--marked 1/50] [--series current|older]`: measures a WAV file as the phone does, prints JSON.
import { run, sayWhenStopped } from "./load.mjs";

sayWhenStopped();
await run("timing");
