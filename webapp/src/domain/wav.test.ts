// WAV in and out: files as libsndfile writes them, our own read back, and every way a file can be broken.

import { describe, expect, test } from "vitest";
import { BadSound, parseWav, writeWav } from "./wav.ts";

/** 0, 1/2, -1/2, 1/4 at 48 kHz, written by libsndfile 1.2 (the reference for what the bytes mean); the second of two channels is four times as loud. */
const BY_LIBSNDFILE: [string, string][] = [
  ["8-bit", "UklGRigAAABXQVZFZm10IBAAAAABAAEAgLsAAIC7AAABAAgAZGF0YQQAAACAwECg"],
  ["16-bit", "UklGRiwAAABXQVZFZm10IBAAAAABAAEAgLsAAAB3AQACABAAZGF0YQgAAAAAAABAAMAAIA=="],
  ["24-bit", "UklGRjAAAABXQVZFZm10IBAAAAABAAEAgLsAAIAyAgADABgAZGF0YQwAAAAAAAAAAEAAAMAAACA="],
  ["32-bit", "UklGRjQAAABXQVZFZm10IBAAAAABAAEAgLsAAADuAgAEACAAZGF0YRAAAAAAAAAAAAAAQAAAAMAAAAAg"],
  ["32-bit float", "UklGRlgAAABXQVZFZm10IBAAAAADAAEAgLsAAADuAgAEACAAZmFjdAQAAAAEAAAAUEVBSxAAAAABAAAAKOUGawAAAD8BAAAAZGF0YRAAAAAAAAAAAAAAPwAAAL8AAIA+"],
  ["64-bit float", "UklGRmgAAABXQVZFZm10IBAAAAADAAEAgLsAAADcBQAIAEAAZmFjdAQAAAAEAAAAUEVBSxAAAAABAAAAKOUGawAAAD8BAAAAZGF0YSAAAAAAAAAAAAAAAAAAAAAAAOA/AAAAAAAA4L8AAAAAAADQPw=="],
  ["extensible, 24-bit, two channels", "UklGRmAAAABXQVZFZm10ICgAAAD+/wIAgLsAAABlBAAGABgAFgAYAAMAAAABAAAAAAAQAIAAAKoAOJtxZmFjdAQAAAAEAAAAZGF0YRgAAAAAAAAAAAAAABAAAEAAAPAAAMAAAAgAACA="],
  ["extensible, float", "UklGRnAAAABXQVZFZm10ICgAAAD+/wEAgLsAAADuAgAEACAAFgAgAAQAAAADAAAAAAAQAIAAAKoAOJtxZmFjdAQAAAAEAAAAUEVBSxAAAAABAAAAKOUGawAAAD8BAAAAZGF0YRAAAAAAAAAAAAAAPwAAAL8AAIA+"],
];
const WAVE = [0, 0.5, -0.5, 0.25];

function bytesOf(base64: string): ArrayBuffer {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0)).buffer;
}

/** A good file of half a second. */
function good(): ArrayBuffer {
  return writeWav(Float32Array.from({ length: 24000 }, (_, index) => Math.sin(index / 9) / 2), 48000);
}

function patched(at: number, size: 2 | 4, value: number): ArrayBuffer {
  const bytes = good();
  if (size === 2) new DataView(bytes).setUint16(at, value, true);
  else new DataView(bytes).setUint32(at, value, true);
  return bytes;
}

test.each(BY_LIBSNDFILE)("reads %s", (_, base64) => {
  const { samples, rateHz } = parseWav(bytesOf(base64));
  expect(rateHz).toBe(48000);
  expect(samples.length).toBe(4);
  samples.forEach((sample, index) => expect(sample).toBeCloseTo(WAVE[index]!, 2));
});

test("what it writes is what libsndfile reads: the 16-bit file, byte for byte", () => {
  const reference = new Uint8Array(bytesOf(BY_LIBSNDFILE[1]![1]));
  expect(new Uint8Array(writeWav(Float32Array.from(WAVE), 48000))).toEqual(reference);
});

test("what it writes reads back within half a step, and beyond full scale is cut", () => {
  const { samples } = parseWav(writeWav(Float32Array.of(0.1, -0.7, 1.5, -1.5), 44100));
  [0.1, -0.7, 32767 / 32768, -1].forEach((value, index) => expect(Math.abs(samples[index]! - value)).toBeLessThanOrEqual(0.5 / 32768 + 1e-7));
});

test("parts that are no sound are passed over", () => {
  const bytes = new Uint8Array(good());
  const note = new Uint8Array([...new TextEncoder().encode("LIST"), 3, 0, 0, 0, 1, 2, 3, 0]);
  const joined = new Uint8Array([...bytes.slice(0, 36), ...note, ...bytes.slice(36)]);
  expect(parseWav(joined.buffer).samples).toEqual(parseWav(good()).samples);
});

describe("refuses in a sentence that says what to do", () => {
  const float = (value: number) => {
    const bytes = bytesOf(BY_LIBSNDFILE[4]![1]);
    new DataView(bytes).setFloat32(bytes.byteLength - 4, value, true);
    return bytes;
  };
  test.each<[string, ArrayBuffer, string]>([
    ["an empty file", new ArrayBuffer(0), "empty"],
    ["one byte", new ArrayBuffer(1), "not a WAV"],
    ["another kind of file", new TextEncoder().encode("Dear buyer, this is no sound at all, only words.").buffer, "not a WAV"],
    ["a header alone", good().slice(0, 44), "cut short"],
    ["half a header", good().slice(0, 20), "damaged"],
    ["a file cut in the middle", good().slice(0, 20000), "cut short"],
    ["a size that lies", patched(40, 4, 0xfffffff0), "cut short"],
    ["no samples", writeWav(new Float32Array(0), 48000), "no sound"],
    ["no channel", patched(22, 2, 0), "contradicts itself"],
    ["a frame size that lies", patched(32, 2, 7), "contradicts itself"],
    ["no bits", patched(34, 2, 0), "packed in a way"],
    ["a codec", patched(20, 2, 17), "packed in a way"],
    ["a rate of 0", patched(24, 4, 0), "samples a second"],
    ["a rate of gigahertz", patched(24, 4, 4_000_000_000), "samples a second"],
    ["a format too short", patched(16, 4, 2), "damaged"],
    ["not numbers", float(NaN), "no sound"],
    ["infinity", float(Infinity), "no sound"],
    ["more than three minutes", writeWav(new Float32Array(181 * 8000), 8000), "3 minutes"],
  ])("%s", (_, bytes, said) => {
    expect(() => parseWav(bytes)).toThrow(BadSound);
    expect(() => parseWav(bytes)).toThrow(said);
    expect(() => parseWav(bytes)).toThrow(/[.]$/);
  });
});
