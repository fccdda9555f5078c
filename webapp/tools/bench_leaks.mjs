// `node tools/bench_leaks.mjs FOLDER`: bundles the phone's leak finder as bench.js for the backend's benchmark in a browser.
import { fileURLToPath } from "node:url";
import { build } from "vite";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
await build({
  configFile: false,
  logLevel: "error",
  root: here(".."),
  publicDir: false,
  resolve: { alias: { "@catalogue": here("../../backend/barnlight/catalogue") } },
  build: {
    outDir: process.argv[2],
    emptyOutDir: false,
    lib: { entry: here("./bench_leaks_page.ts"), name: "bench", formats: ["iife"], fileName: () => "bench.js" },
  },
});
