// The outline of a stretch of sound: for each column the lowest and highest sample, as one SVG path.

import type { Span } from "./view_span.ts";

/** The loudest sample of a sound. */
export function loudest(samples: Float32Array): number {
  return samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 1e-6);
}

/** Scaled to `peak`, the loudest sample of the whole sound, so that a quiet stretch looks quiet. */
export function envelope(samples: Float32Array, rateHz: number, peak: number, { from_s, to_s }: Span, columns: number, height: number): string {
  const middle = height / 2;
  const first = from_s * rateHz;
  const each = ((to_s - from_s) * rateHz) / columns;
  const top: string[] = [];
  const bottom: string[] = [];
  for (let column = 0; column < columns; column += 1) {
    const start = Math.max(0, Math.floor(first + column * each));
    const end = Math.min(samples.length, Math.max(start + 1, Math.ceil(first + (column + 1) * each)));
    let [low, high] = [0, 0];
    for (let i = start; i < end; i += 1) {
      const sample = samples[i]!;
      if (sample < low) low = sample;
      if (sample > high) high = sample;
    }
    top.push(`${column} ${(middle - (high / peak) * middle).toFixed(1)}`);
    bottom.unshift(`${column} ${(middle - (low / peak) * middle + 0.5).toFixed(1)}`);
  }
  return `M${top.join("L")}L${bottom.join("L")}Z`;
}
