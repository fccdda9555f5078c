// A photo with a place in it comes out without, pixels untouched; the files are made by tests/files/make.py.
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { bareJpeg } from "./bare_jpeg.ts";

const file = (name: string): ArrayBuffer => new Uint8Array(readFileSync(`../tests/files/${name}`)).buffer;
const text = (bytes: ArrayBuffer): string => Buffer.from(bytes).toString("latin1");

it.each(["gps.jpg", "comment.jpg"])("takes the notes out of %s and nothing else", (name) => {
  // The same encoder and pixels without notes: the bare file must be that one, byte for byte.
  expect(text(file(name))).not.toBe(text(file("good.jpg")));
  expect(text(bareJpeg(file(name)))).toBe(text(file("good.jpg")));
});

it("leaves a clean photo and what is no photo as they are", () => {
  for (const name of ["good.jpg", "good.png", "page.jpg", "empty.jpg"]) expect(text(bareJpeg(file(name)))).toBe(text(file(name)));
});

it("ends on a photo cut at any byte", () => {
  const whole = file("gps.jpg");
  for (let length = 0; length < whole.byteLength; length += 13) {
    expect(bareJpeg(whole.slice(0, length)).byteLength).toBeLessThanOrEqual(length);
  }
});
