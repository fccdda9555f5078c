// How large a photo is kept, and that none is kept which the server would never take.
import { afterEach, expect, test, vi } from "vitest";
import { drawn, keptSize } from "./shrink_photo.ts";

afterEach(() => { vi.unstubAllGlobals(); });

test.each([
  [4000, 3000, 2560, [2560, 1920]],
  [3000, 4000, 2560, [1920, 2560]],
  [4032, 3024, 2560, [2560, 1920]],
  [8064, 6048, 2560, [2560, 1920]],
  [800, 600, 2560, [800, 600]],
  [8000, 6000, Infinity, [8000, 6000]],
  [20_000, 1, 2560, [2560, 1]],
])("%i x %i px, at most %d a side", (width, height, edge, kept) => {
  expect(keptSize(width, height, edge)).toEqual(kept);
});

test("a leak photo of 108 million pixels keeps its shape within the 60 million that the server takes", () => {
  const [width, height] = keptSize(12_000, 9000, Infinity);
  expect(width * height).toBeLessThanOrEqual(60_000_000);
  expect(width * height).toBeGreaterThan(59_900_000);
  expect(width / height).toBeCloseTo(4 / 3, 3);
});

test("a picture that packs badly is packed harder, down to what the server takes", async () => {
  const asked: number[] = [];
  vi.stubGlobal("OffscreenCanvas", class {
    getContext() { return {}; }
    async convertToBlob({ quality }: { quality: number }) {
      asked.push(quality);
      return { size: quality * 40 * 1024 * 1024, arrayBuffer: async () => new ArrayBuffer(8) };
    }
  });
  await drawn(9000, 6600, () => undefined);
  expect(asked).toEqual([0.85, 0.7, 0.5]);
});
