// `node tools/bench_timing.mjs measure LIST.json` or `... bundle FOLDER`: the phone's timing engine for the backend's benchmarks.
import { fileURLToPath } from "node:url";
import { build, runnerImport } from "vite";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const shared = {
  configFile: false,
  logLevel: "error",
  root: here(".."),
  resolve: { alias: { "@catalogue": here("../../backend/barnlight/catalogue") } },
};
const [what, path] = process.argv.slice(2);
if (what === "measure") {
  const { module } = await runnerImport(here("./bench_timing.ts"), shared);
  module.measureAll(path);
} else {
  const lib = { entry: here("./bench_page.ts"), name: "bench", formats: ["iife"], fileName: () => "bench.js" };
  await build({ ...shared, publicDir: false, build: { lib, outDir: path, emptyOutDir: false } });
}
