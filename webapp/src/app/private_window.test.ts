// Signs of a private window: what its browser does is faked; that real ones do so is from memory, not tested.
import { expect, it } from "vitest";
import { looksPrivate } from "./private_window.ts";

it("takes a refused folder for a private window, and a browser without folders for nothing", async () => {
  expect(await looksPrivate({ getDirectory: async () => { throw new DOMException("refused", "SecurityError"); } })).toBe(true);
  expect(await looksPrivate({ getDirectory: async () => ({}) as FileSystemDirectoryHandle })).toBe(false);
  expect(await looksPrivate(undefined)).toBe(false);
});
