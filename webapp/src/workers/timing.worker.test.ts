// The timing worker answers every message: with a result, or with an error it survives.

import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { TimingReply, TimingRequest } from "./timing.worker.ts";

const scope = { postMessage: vi.fn<(reply: TimingReply) => void>(), onmessage: (_: { data: TimingRequest }) => {} };

beforeEach(async () => {
  vi.stubGlobal("self", scope);
  await import("./timing.worker.ts");
});
afterEach(() => vi.unstubAllGlobals());

test("replies under the id of the question, also to what it cannot measure", () => {
  scope.onmessage({ data: { id: "a", samples: new Float32Array(4800), rate: 48000, marked_s: null } });
  scope.onmessage({ data: { id: "b", samples: Float32Array.of(0, 0.2, 0, 0.2), rate: 100, marked_s: 0.02 } });
  const replies = scope.postMessage.mock.calls.map(([reply]) => reply);
  expect(replies[0]).toMatchObject({ id: "a", result: { verdict: "unusable", reason: "too_quiet" } });
  expect(replies[1]).toMatchObject({ id: "b", error: expect.stringContaining("at least 8000") });
});
