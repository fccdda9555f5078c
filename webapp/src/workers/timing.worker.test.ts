// The timing worker answers every message: with a result, or with an error it survives.

import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { writeWav } from "../domain/wav.ts";
import type { TimingReply, TimingRequest } from "./timing.worker.ts";

const scope = { postMessage: vi.fn<(reply: TimingReply) => void>(), onmessage: async (_: { data: TimingRequest }) => {} };

beforeEach(async () => {
  vi.stubGlobal("self", scope);
  await import("./timing.worker.ts");
});
afterEach(() => vi.unstubAllGlobals());

test("replies under the id of the question, also to what it cannot measure", async () => {
  await scope.onmessage({ data: { id: "a", samples: new Float32Array(4800), rate: 48000, marked_s: null } });
  await scope.onmessage({ data: { id: "b", samples: Float32Array.of(0, 0.2, 0, 0.2), rate: 100, marked_s: 0.02 } });
  const replies = scope.postMessage.mock.calls.map(([reply]) => reply);
  expect(replies[0]).toMatchObject({ id: "a", result: { verdict: "unusable", reason: "too_quiet" } });
  expect(replies[1]).toMatchObject({ id: "b", error: expect.stringContaining("at least 8000") });
});

test("goes through a file with word of how far it is, and says what a bad one is", async () => {
  scope.postMessage.mockClear();
  await scope.onmessage({ data: { id: "c", file: new Blob([writeWav(new Float32Array(8000), 8000)]), marked_s: null } });
  await scope.onmessage({ data: { id: "d", file: new Blob(["only words"]), marked_s: null } });
  const replies = scope.postMessage.mock.calls.map(([reply]) => reply);
  expect(replies[0]).toEqual({ id: "c", progress: 0 });
  expect(replies.at(-2)).toMatchObject({ id: "c", found: { rateHz: 8000, result: { verdict: "unusable" } } });
  expect(replies.at(-1)).toMatchObject({ id: "d", error: expect.stringContaining("not a WAV") });
});
