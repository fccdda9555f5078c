// `npm run -s timing -- FILE [--marked 1/50] [--series current|older]`: measures a WAV file as the phone does, prints JSON.
//
// Vite loads the app's own TypeScript, so that this runs on every Node the app builds on.
import { fileURLToPath } from "node:url";
import { runnerImport } from "vite";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const { module } = await runnerImport(here("./timing.ts"), {
  configFile: false,
  logLevel: "error",
  root: here(".."),
  resolve: { alias: { "@catalogue": here("../../backend/barnlight/catalogue") } },
});
process.on("SIGINT", () => {
  console.error("\nbarnlight: stopped; nothing was measured.");
  process.exit(130);
});
process.exitCode = await module.main(process.argv.slice(2));
