// The timing command of the web app's side: arguments in, one JSON text out, exit code 2 for anything that is not sound.
import { open } from "node:fs/promises";
import { parseArgs } from "node:util";
import constants from "@catalogue/shutter_timing.json";
import seriesData from "@catalogue/series.json";
import { errorStops, nominalSeconds, parseMark } from "../src/domain/exposure.ts";
import { measureBeside } from "../src/domain/shutter_beside.ts";
import { shifted } from "../src/domain/shutter_stretch.ts";
import { BadSound, isLong, parseWav } from "../src/domain/wav.ts";
import { findFirings, layoutOf, type Pieces } from "../src/workers/timing_long.ts";

const NOT_SOUND = 2;

/** Resolves to the exit code: 0, or 2 with one sentence on standard error. */
export async function main(words: string[]): Promise<number> {
  try {
    const { values, positionals } = parseArgs({
      args: words,
      allowPositionals: true,
      options: { marked: { type: "string" }, series: { type: "string", default: "current" }, json: { type: "boolean" } },
    });
    if (positionals.length !== 1) throw new BadSound("Name one WAV file to measure.");
    console.log(JSON.stringify(await timing(positionals[0]!, values.marked ?? null, values.series), null, 2));
    return 0;
  } catch (error) {
    console.error(`barnlight: ${error instanceof Error ? error.message : String(error)}`);
    return NOT_SOUND;
  }
}

async function timing(file: string, marked: string | null, seriesId: string) {
  const series = seriesData.series.find(({ id }) => id === seriesId);
  if (!series) throw new BadSound(`There is no series "${seriesId}"; there are ${seriesData.series.map(({ id }) => id).join(", ")}.`);
  const markedS = marked === null ? null : parseMark(marked);
  if (marked !== null && markedS === null) throw new BadSound(`"${marked}" is no marked speed; write it like 1/50 or 2s.`);
  const nominalS = marked === null ? null : nominalSeconds(marked, series);
  const { result, stretch } = await withFile(file, (pieces) => measured(pieces, markedS));
  const error = nominalS === null || result.open_time_s === null ? null : errorStops(result.open_time_s, nominalS);
  return { ...result, stretch, nominal_s: nominalS, error_stops: error };
}

/** All moments count from the start of the file; `stretch` is null where the file was measured as a whole. */
async function measured(file: Pieces, markedS: number | null) {
  if (!isLong(await layoutOf(file))) {
    const { samples, rateHz } = parseWav(await file.read(0, file.size));
    return { result: measureBeside(samples, rateHz, markedS, constants), stretch: null };
  }
  const { result, stretch } = await findFirings(file, markedS, constants, showProgress);
  return { result: shifted(result, stretch.from_s), stretch };
}

async function withFile<T>(path: string, work: (file: Pieces) => Promise<T>): Promise<T> {
  const file = await open(path).catch(() => { throw new BadSound(`${path} cannot be read.`); });
  try {
    const read = async (from: number, to: number) => {
      const { buffer, bytesRead } = await file.read(new Uint8Array(to - from), 0, to - from, from);
      return buffer.buffer.slice(0, bytesRead);
    };
    return await work({ size: (await file.stat()).size, read });
  } finally {
    await file.close();
  }
}

/** One line that writes over itself, where somebody watches. */
function showProgress(share: number): void {
  if (process.stderr.isTTY) process.stderr.write(`\rlooking for the firings: ${Math.round(100 * share)} %${share === 1 ? "\r\u001b[K" : ""}`);
}
