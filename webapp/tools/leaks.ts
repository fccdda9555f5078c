// The leak finder of the web app's side: a reduced picture and the full one in, one JSON text out, exit code 2 for no picture.
import { readFileSync } from "node:fs";
import { parseArgs } from "node:util";
import constants from "@catalogue/leaks.json";
import { wholePicture } from "../src/domain/leak_doubts.ts";
import { findIn, type LeakResult } from "../src/domain/leak_finder.ts";
import { BadPicture, parsePpm } from "./ppm.ts";

const NOT_A_PICTURE = 2;

/** Returns the exit code: 0, or 2 with one sentence on standard error. */
export function main(words: string[]): number {
  try {
    const { values, positionals } = parseArgs({ args: words, allowPositionals: true, options: { list: { type: "string" }, json: { type: "boolean" } } });
    const [working, full = working] = positionals;
    if (!values.list && !working) throw new BadPicture("Name a PPM picture of the working size, and the full one if it was reduced.");
    console.log(JSON.stringify(values.list ? listed(values.list) : leaks(working!, full!), null, 2));
    return 0;
  } catch (error) {
    console.error(`barnlight: ${error instanceof Error ? error.message : String(error)}`);
    return NOT_A_PICTURE;
  }
}

function leaks(working: string, full: string): LeakResult {
  return findIn(pixelsOf(working), wholePicture(pixelsOf(full)), constants);
}

/** Of every pair that the JSON at `list` names: `[{working, full}]`, in their order. */
function listed(list: string): LeakResult[] {
  const entries = JSON.parse(bytesOf(list).toString("utf8")) as { working: string; full: string }[];
  return entries.map(({ working, full }) => leaks(working, full));
}

function pixelsOf(file: string) {
  return parsePpm(bytesOf(file));
}

function bytesOf(file: string): Buffer {
  try {
    return readFileSync(file);
  } catch {
    throw new BadPicture(`${file} cannot be read.`);
  }
}
