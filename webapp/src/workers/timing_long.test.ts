// A long recording is gone through in pieces, finds the stretch the server finds, and is refused in one sentence where it is broken.
import constants from "@catalogue/shutter_timing.json";
import { expect, test } from "vitest";
import { ClickOutline, stretches } from "../domain/shutter_stretch.ts";
import { BadSound, parseWav, writeWav } from "../domain/wav.ts";
import { findFirings, type Pieces } from "./timing_long.ts";

interface Recipe { rate_hz: number; seconds: number; seed: number; noise: number; knocks: number[]; firings: [number, number][]; levels_sum: number; stretches: unknown; stretch: unknown }

/** The recipe by which the server's tests make the very same bytes (tests/made_long_sound.py). */
const recipe = Object.values(import.meta.glob<Recipe>("../../../tests/files/long_sound.json", { eager: true, import: "default" }))[0]!;
// Park and Miller's generator: exact in JavaScript's numbers too.
const [MINSTD, MODULUS] = [16_807, 2_147_483_647];
const [FADE, TICK_S] = [0.93, 0.008];

const BYTES = madeLongSound();
const limits = constants.stretch;
const quiet = () => undefined;

function pieces(bytes: ArrayBuffer, noted: number[] = []): Pieces {
  return { size: bytes.byteLength, read: async (from, to) => { noted.push(to - from); return bytes.slice(from, to); } };
}

/** The samples as they are stored, read without going through it as a file. */
function samples(): Float32Array {
  return Float32Array.from(new Int16Array(BYTES, 44), (one) => one / 32768);
}

test("the outline is that of the server, whatever the blocks", () => {
  const all = samples();
  for (const block of [79, 80, 100_001, all.length]) {
    const outline = new ClickOutline(recipe.rate_hz, limits);
    for (let at = 0; at < all.length; at += block) outline.add([all.subarray(at, at + block)]);
    const levels = outline.levels();
    expect(levels.reduce((sum, one) => sum + one, 0)).toBe(recipe.levels_sum);
    expect(stretches(levels, outline.frameS, limits)).toEqual(recipe.stretches);
  }
});

test("a click in either channel counts", () => {
  const [left, right] = [new Float32Array(8000), new Float32Array(8000)];
  right[4000] = 0.5;
  const outline = new ClickOutline(8000, limits);
  outline.add([left, right]);
  expect(outline.levels().indexOf(Math.max(...outline.levels()))).toBe(100);
});

test("it measures the stretch with the firings, in pieces, and tells how far it is", async () => {
  const [shares, sizes]: [number[], number[]] = [[], []];
  const { stretch, result, samples: kept, rateHz } = await findFirings(pieces(BYTES, sizes), 0.2, constants, (share) => shares.push(share));
  expect(stretch).toEqual(recipe.stretch);
  expect(result.verdict).toBe("clear");
  expect(result.firings.map(({ open_s, open_time_s }) => [Math.round(100 * (open_s + stretch.from_s)) / 100, Math.round(1000 * open_time_s) / 1000])).toEqual(recipe.firings);
  expect(kept.length).toBe(Math.ceil(stretch.to_s * rateHz) - Math.floor(stretch.from_s * rateHz));
  expect([shares[0], shares.at(-1), shares.length]).toEqual([0, 1, sizes.filter((size) => size <= 1 << 20).length - 1 - (recipe.stretches as unknown[]).length + 1]);
  expect(Math.max(...sizes)).toBeLessThanOrEqual(1 << 20);
});

test.each<[string, (bytes: ArrayBuffer) => ArrayBuffer, string]>([
  ["cut in the middle", (bytes) => bytes.slice(0, bytes.byteLength / 2), "cut short"],
  ["a header that lies", (bytes) => { new DataView(bytes).setUint32(40, 0xfffffff0, true); return bytes; }, "cut short"],
  ["floats that are no numbers", (bytes) => {
    const view = new DataView(bytes);
    view.setUint16(20, 3, true);
    view.setUint16(32, 4, true);
    view.setUint16(34, 32, true);
    view.setFloat32(44 + 4 * 400_000, Number.NaN, true);
    return bytes;
  }, "no sound"],
  ["words", () => new TextEncoder().encode("only words").buffer, "not a WAV"],
  ["nothing", () => new ArrayBuffer(0), "empty"],
])("%s: one sentence", async (_, spoil, said) => {
  const file = pieces(spoil(BYTES.slice(0)));
  await expect(findFirings(file, null, constants, quiet)).rejects.toThrow(BadSound);
  await expect(findFirings(file, null, constants, quiet)).rejects.toThrow(said);
});

test("as a whole it is still refused", () => {
  expect(() => parseWav(BYTES)).toThrow("longer than 3 minutes");
});

/** A WAV: a quiet room, knocks, and firings with release, train and closing click at the recipe's moments. */
function madeLongSound(): ArrayBuffer {
  let state = recipe.seed;
  const noise = () => {
    state = (state * MINSTD) % MODULUS;
    return state / MODULUS - 0.5;
  };
  const samples = Float64Array.from({ length: recipe.seconds * recipe.rate_hz }, () => noise() * recipe.noise);
  const knock = (atS: number, loudness: number) => {
    const start = Math.floor(atS * recipe.rate_hz + 0.5);
    for (let index = start, peak = loudness; index < start + 200; index += 1, peak *= FADE) samples[index]! += peak * noise();
  };
  for (const atS of recipe.knocks) knock(atS, 1.2);
  for (const [openS, timeS] of recipe.firings) {
    knock(openS - 0.012, 0.3);
    knock(openS, 0.7);
    for (let tick = 0; tick < Math.floor(timeS / TICK_S) - 2; tick += 1) knock(openS + 0.012 + tick * TICK_S, 0.04);
    knock(openS + timeS, 1);
  }
  return writeWav(samples, recipe.rate_hz);
}
