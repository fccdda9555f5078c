// The timing command of the web app's side: arguments in, one JSON text out, exit code 2 for anything that is not sound.
import { readFileSync, statSync } from "node:fs";
import { parseArgs } from "node:util";
import constants from "@catalogue/shutter_timing.json";
import seriesData from "@catalogue/series.json";
import { errorStops, nominalSeconds, parseMark } from "../src/domain/exposure.ts";
import { measureBeside } from "../src/domain/shutter_beside.ts";
import { BadSound, parseWav } from "../src/domain/wav.ts";

const NOT_SOUND = 2;
/** A file is asked for its size before it is read. */
const MOST_FILE_BYTES = 256 * 1024 * 1024;

/** Returns the exit code: 0, or 2 with one sentence on standard error. */
export function main(words: string[]): number {
  try {
    const { values, positionals } = parseArgs({
      args: words,
      allowPositionals: true,
      options: { marked: { type: "string" }, series: { type: "string", default: "current" }, json: { type: "boolean" } },
    });
    if (positionals.length !== 1) throw new BadSound("Name one WAV file to measure.");
    console.log(JSON.stringify(timing(positionals[0]!, values.marked ?? null, values.series), null, 2));
    return 0;
  } catch (error) {
    console.error(`barnlight: ${error instanceof Error ? error.message : String(error)}`);
    return NOT_SOUND;
  }
}

function timing(file: string, marked: string | null, seriesId: string) {
  const series = seriesData.series.find(({ id }) => id === seriesId);
  if (!series) throw new BadSound(`There is no series "${seriesId}"; there are ${seriesData.series.map(({ id }) => id).join(", ")}.`);
  const markedS = marked === null ? null : parseMark(marked);
  if (marked !== null && markedS === null) throw new BadSound(`"${marked}" is no marked speed; write it like 1/50 or 2s.`);
  const nominalS = marked === null ? null : nominalSeconds(marked, series);
  const { samples, rateHz } = parseWav(bytesOf(file));
  const result = measureBeside(samples, rateHz, markedS, constants);
  const error = nominalS === null || result.open_time_s === null ? null : errorStops(result.open_time_s, nominalS);
  return { ...result, nominal_s: nominalS, error_stops: error };
}

function bytesOf(file: string): ArrayBuffer {
  try {
    if (statSync(file).size > MOST_FILE_BYTES) throw new BadSound(`${file} is larger than 256 MiB. Cut it to the firings of one speed.`);
    return Uint8Array.from(readFileSync(file)).buffer;
  } catch (error) {
    if (error instanceof BadSound) throw error;
    throw new BadSound(`${file} cannot be read.`);
  }
}
