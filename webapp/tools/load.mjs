// Loads or bundles a tool written in the app's own TypeScript through Vite, so that it runs on every Node the app builds on.
import { fileURLToPath } from "node:url";
import { build, runnerImport } from "vite";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const shared = {
  configFile: false,
  logLevel: "error",
  root: here(".."),
  resolve: { alias: { "@catalogue": here("../../backend/barnlight/catalogue") } },
};

/** What `NAME.ts` beside this file exports. */
export async function load(name) {
  return (await runnerImport(here(`./${name}.ts`), shared)).module;
}

/** Runs its `main` with the words of the command line; the number that comes back is the exit code. */
export async function run(name) {
  process.exitCode = await (await load(name)).main(process.argv.slice(2));
}

/** What Ctrl-C says of a tool that measures. */
export function sayWhenStopped() {
  process.on("SIGINT", () => {
    console.error("\nbarnlight: stopped; nothing was measured.");
    process.exit(130);
  });
}

/** Writes `NAME.ts` as bench.js, for a page that finds it as `bench`, into a folder. */
export async function bundle(name, folder) {
  const lib = { entry: here(`./${name}.ts`), name: "bench", formats: ["iife"], fileName: () => "bench.js" };
  await build({ ...shared, publicDir: false, build: { lib, outDir: folder, emptyOutDir: false } });
}
