// The phone's timing engine for the backend's benchmarks: measures a list of files, or is bundled to run in a page.
import { readFileSync } from "node:fs";
import constants from "@catalogue/shutter_timing.json";
import { measure } from "../src/domain/shutter_timing.ts";
import { parseWav } from "../src/domain/wav.ts";

/** Prints the measurements of the files that the JSON at `list` names: `[{file, marked_s}]`, in their order. */
export function measureAll(list: string): void {
  const entries = JSON.parse(readFileSync(list, "utf8")) as { file: string; marked_s: number | null }[];
  const results = entries.map(({ file, marked_s: markedS }) => {
    const { samples, rateHz } = parseWav(Uint8Array.from(readFileSync(file)).buffer);
    return measure(samples, rateHz, markedS, constants);
  });
  console.log(JSON.stringify(results));
}
