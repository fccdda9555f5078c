// Measures WAV files with the phone's own code: npm run timing -- [--marked SECONDS] FILE... ; one JSON line a file.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { runnerImport } from "vite";

const source = (path) => fileURLToPath(new URL(`../${path}`, import.meta.url));
const load = async (path) => (await runnerImport(source(path), { configFile: false, logLevel: "error" })).module;

const { values, positionals } = parseArgs({ allowPositionals: true, options: { marked: { type: "string" } } });
const marked_s = values.marked === undefined ? null : Number(values.marked);
if (positionals.length === 0 || Number.isNaN(marked_s)) {
  console.error("Say which files: npm run timing -- [--marked SECONDS] FILE...");
  process.exit(2);
}

const { parseWav } = await load("src/domain/wav.ts");
const { measure } = await load("src/domain/shutter_timing.ts");
const constants = JSON.parse(readFileSync(source("../backend/barnlight/catalogue/shutter_timing.json"), "utf8"));
for (const file of positionals) {
  const bytes = readFileSync(file);
  const { samples, rateHz } = parseWav(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  console.log(JSON.stringify({ file, ...measure(samples, rateHz, marked_s, constants) }));
}
