// Loss of sound told from mere lateness (arithmetic; buffer sizes as browsers use them).
import { expect, it } from "vitest";
import { FrameClock } from "./frame_clock.ts";

const PIECE = 2048;
const RATE = 48_000;
const PIECE_MS = (1000 * PIECE) / RATE;

function heard(pieces: number, lateMs: (piece: number) => number): number {
  const clock = new FrameClock(RATE);
  for (let piece = 1; piece <= pieces; piece += 1) clock.add(PIECE, 5_000 + piece * PIECE_MS + lateMs(piece));
  return clock.lostFrames();
}

it("finds nothing lost in an even stream or in one that comes in bursts", () => {
  expect(heard(90, () => 0)).toBe(0);
  expect(heard(90, (piece) => (piece % 4) * 12)).toBe(0);
});

it("finds what was dropped in the middle, to a piece", () => {
  const droppedMs = 40;
  expect(heard(90, (piece) => (piece > 45 ? droppedMs : 0) + (piece % 3) * 5)).toBe(Math.round((droppedMs * RATE) / 1000));
});

it("counts silence put in where the microphone gave nothing", () => {
  const clock = new FrameClock(RATE);
  clock.add(PIECE, 100, 256);
  expect(clock.lostFrames()).toBe(256);
  expect(new FrameClock(RATE).lostFrames()).toBe(0);
});
