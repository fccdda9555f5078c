// Bad files a person may choose: each gets one sentence that says what to do, and long ones are never unpacked.
import { expect, it, vi } from "vitest";
import { BadSound, wavLayout, writeWav } from "../../domain/wav.ts";
import { readSoundFile } from "./sound_file.ts";

const no = () => Promise.reject(new Error("no"));
const deaf = { soundLength: no, decodeSound: no, findInFile: no };
const quiet = () => undefined;
const wav = writeWav(Float32Array.from({ length: 9600 }, (_, i) => 0.3 * Math.sin(i)), 48_000);

function lying(): ArrayBuffer {
  const bytes = wav.slice(0);
  new DataView(bytes).setUint32(40, 0x7fffffff, true);
  return bytes;
}

/** 32-bit floats, all NaN, under an honest header. */
function noNumbers(): ArrayBuffer {
  const bytes = new ArrayBuffer(44 + 400);
  new Uint8Array(bytes).set(new Uint8Array(wav.slice(0, 44)));
  const view = new DataView(bytes);
  view.setUint16(20, 3, true);
  view.setUint32(28, 4 * 48_000, true);
  view.setUint16(32, 4, true);
  view.setUint16(34, 32, true);
  view.setUint32(40, 400, true);
  for (let at = 44; at < 444; at += 4) view.setFloat32(at, Number.NaN, true);
  return bytes;
}

it.each([
  ["empty", new Blob([]), /empty/],
  ["cut short", new Blob([wav.slice(0, 5000)]), /cut short/],
  ["a header that lies", new Blob([lying()]), /cut short/],
  ["floats that are no numbers", new Blob([noNumbers()]), /no sound/],
  ["a picture named .wav", new Blob([Uint8Array.of(0x89, 0x50, 0x4e, 0x47), new Uint8Array(500)]), /not sound/],
  ["words named .wav", new Blob(["Dear buyer, ".repeat(50)]), /not sound/],
])("%s: one sentence", async (_, file, said) => {
  await expect(readSoundFile(file, null, quiet, deaf)).rejects.toThrow(BadSound);
  await expect(readSoundFile(file, null, quiet, deaf)).rejects.toThrow(said);
});

it("an hour of packed sound is refused by its length before it is unpacked", async () => {
  const decodeSound = vi.fn();
  await expect(readSoundFile(new Blob(["ID3 packed"]), null, quiet, { ...deaf, soundLength: () => Promise.resolve(3600), decodeSound })).rejects.toThrow("longer than 3 minutes");
  expect(decodeSound).not.toHaveBeenCalled();
});

it("reads 8 kHz and hands other kinds to the phone", async () => {
  expect((await readSoundFile(new Blob([writeWav(new Float32Array(8000), 8000)]), null, quiet, deaf)).rateHz).toBe(8000);
  const sound = { samples: new Float32Array(10), rateHz: 48_000 };
  expect(await readSoundFile(new Blob(["OggS"]), null, quiet, { ...deaf, soundLength: () => Promise.resolve(3), decodeSound: () => Promise.resolve(sound) })).toBe(sound);
});

it("a long WAV is gone through elsewhere, never read as a whole here", async () => {
  const long = new Blob([writeWav(new Float32Array(4 * 60 * 8000), 8000)]);
  const sound = { samples: new Float32Array(10), rateHz: 8000 };
  const findInFile = vi.fn(() => Promise.resolve(sound));
  const readWhole = vi.spyOn(long, "arrayBuffer");
  expect(await readSoundFile(long, 0.02, quiet, { ...deaf, findInFile })).toBe(sound);
  expect(findInFile).toHaveBeenCalledWith(long, 0.02, quiet);
  expect(readWhole).not.toHaveBeenCalled();
});

it("a file that vanishes while it is read, and one of more than six hours, are told apart", async () => {
  const gone = new Blob([wav]);
  vi.spyOn(gone, "arrayBuffer").mockRejectedValue(new DOMException("gone", "NotReadableError"));
  await expect(readSoundFile(gone, null, quiet, deaf)).rejects.toThrow("Copy it onto the phone");
  expect(() => wavLayout(headOf(7), 44 + 7 * 3600 * 8000)).toThrow("longer than 6 hours");
});

/** The header of that many hours at 8 kHz and 8 bits. */
function headOf(hours: number): ArrayBuffer {
  const head = writeWav(new Float32Array(1), 8000).slice(0, 44);
  const view = new DataView(head);
  view.setUint16(32, 1, true);
  view.setUint16(34, 8, true);
  view.setUint32(40, hours * 3600 * 8000, true);
  return head;
}
