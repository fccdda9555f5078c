// The outline of a stretch of sound: for each column the lowest and highest sample, as one SVG path.

export interface Span { from_s: number; to_s: number }

/** Scaled to the loudest sample of the whole sound, so that a quiet stretch looks quiet. */
export function envelope(samples: Float32Array, rateHz: number, { from_s, to_s }: Span, columns: number, height: number): string {
  let peak = 1e-6;
  for (const sample of samples) peak = Math.max(peak, Math.abs(sample));
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
