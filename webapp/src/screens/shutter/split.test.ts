// The stream is cut into stretches with a firing each, with the quiet before it, however long the shutter stays open.
import { expect, it } from "vitest";
import { FiringSplitter, tailOf } from "./split.ts";

const RATE = 8000;
const PIECE = 160;

/** Gives the lengths in seconds of the stretches that a stream with clicks at these moments is cut into. */
function stretches(lengthS: number, clicksS: readonly number[], markedS: number, hiss = 0.001, silentS = 0): { length_s: number; clicks: number }[] {
  const splitter = new FiringSplitter(RATE, tailOf(markedS));
  const samples = new Float32Array(lengthS * RATE).fill(hiss);
  samples.fill(0, 0, silentS * RATE);
  for (const at of clicksS) samples[Math.round(at * RATE)] = 0.5;
  const found = [];
  for (let at = 0; at < samples.length; at += PIECE) {
    const ended = splitter.add({ samples: samples.slice(at, at + PIECE), at_ms: (1000 * at) / RATE, missing_frames: 0 });
    if (ended) {
      found.push({ length_s: ended.reduce((sum, piece) => sum + piece.samples.length, 0) / RATE, clicks: ended.reduce((sum, piece) => sum + piece.samples.filter((sample) => sample > 0.4).length, 0) });
    }
  }
  return found;
}

it("cuts three firings apart, each with both its clicks and up to a second ahead", () => {
  const found = stretches(9, [2, 2.02, 4.5, 4.52, 7, 7.02], 0.02);
  expect(found.map(({ clicks }) => clicks)).toEqual([2, 2, 2]);
  for (const { length_s } of found) expect(length_s).toBeCloseTo(1 + 0.02 + tailOf(0.02), 1);
});

it("waits for the closing click of a slow firing that lags to twice its mark", () => {
  expect(stretches(9, [2, 4], 1).map(({ clicks }) => clicks)).toEqual([2]);
});

it("gives nothing in a quiet room, and cuts a noise that never ends", () => {
  expect(stretches(5, [], 0.02)).toEqual([]);
  const rattle = Array.from({ length: 300 }, (_, index) => 1 + index / 10);
  expect(stretches(31, rattle, 0.02)[0]!.length_s).toBeCloseTo(20, 0);
});

it("takes neither the silence nor the pop of a microphone that opens for a firing", () => {
  const found = stretches(6, [0.3, 3, 3.02], 0.02, 0.03, 0.28);
  expect(found.map(({ clicks }) => clicks)).toEqual([2]);
});
