// `node tools/book.mjs OUT.zip PHOTO.jpg`: a phone's book as a file; Vite loads the app's own TypeScript.
import { fileURLToPath } from "node:url";
import { runnerImport } from "vite";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const { module } = await runnerImport(here("./book.ts"), {
  configFile: false,
  logLevel: "error",
  root: here(".."),
  resolve: { alias: { "@catalogue": here("../../backend/barnlight/catalogue") } },
});
process.exitCode = await module.main(process.argv.slice(2));
