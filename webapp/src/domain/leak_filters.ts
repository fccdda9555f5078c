// Small filters of the leak finder over pictures: blocks, medians, openings, smoothing; edges repeat the last pixel.
//
// The server has the same functions; tests/files/leaks/steps.json holds both to what scipy.ndimage gives.

/** A picture of one value a pixel, row by row. */
export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** RGBA levels 0-255, row by row, as a canvas gives them; opacity is not looked at. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray | Uint8Array;
}

export const CHANNELS = 4;

export function planeOf(width: number, height: number, values = new Float32Array(width * height)): Plane {
  return { width, height, values };
}

/** Brightness in codes. */
export function luma({ width, height, data }: Pixels, weights: readonly number[]): Plane {
  const [red, green, blue] = weights as [number, number, number];
  const out = planeOf(width, height);
  for (let index = 0, at = 0; index < out.values.length; index += 1, at += CHANNELS) {
    out.values[index] = red * data[at]! + green * data[at + 1]! + blue * data[at + 2]!;
  }
  return out;
}

/** Means of blocks of `block` px a side; the last ones repeat the edge where the picture ends within them. */
export function blockMeans({ width, height, values }: Plane, block: number): Plane {
  const out = planeOf(Math.ceil(width / block), Math.ceil(height / block));
  const overhang = out.width * block - width;
  const sums = new Float64Array(out.width);
  for (let row = 0; row < out.height; row += 1) {
    sums.fill(0);
    for (let down = 0; down < block; down += 1) {
      const start = Math.min(row * block + down, height - 1) * width;
      for (let x = 0, column = 0; column < out.width; column += 1) {
        const end = Math.min(x + block, width);
        for (; x < end; x += 1) sums[column]! += values[start + x]!;
      }
      sums[out.width - 1]! += overhang * values[start + width - 1]!;
    }
    for (let column = 0; column < out.width; column += 1) out.values[row * out.width + column] = sums[column]! / (block * block);
  }
  return out;
}

/** Median over side x side, of levels rounded to steps: counted, not sorted, as the window moves along a row. */
export function steppedMedian({ width, height, values }: Plane, side: number, stepsPerCode: number): Plane {
  const steps = Uint16Array.from(values, (value) => Math.floor(Math.fround(Math.fround(value * stepsPerCode) + 0.5)));
  const half = side >> 1;
  const middle = (side * side) >> 1;
  const counts = new Uint16Array(steps.reduce((most, step) => Math.max(most, step), 0) + 1);
  const out = planeOf(width, height);
  const rows = new Int32Array(side);
  for (let y = 0; y < height; y += 1) {
    for (let index = 0; index < side; index += 1) rows[index] = within(y + index - half, height) * width;
    counts.fill(0);
    let median = 0;
    let below = 0;
    for (let column = -half; column <= half; column += 1) for (let index = 0; index < side; index += 1) counts[steps[rows[index]! + within(column, width)]!]! += 1;
    for (let x = 0; x < width; x += 1) {
      if (x > 0) {
        const [old, next] = [within(x - half - 1, width), within(x + half, width)];
        for (let index = 0; index < side; index += 1) {
          const [gone, come] = [steps[rows[index]! + old]!, steps[rows[index]! + next]!];
          counts[gone]! -= 1;
          counts[come]! += 1;
          if (gone < median) below -= 1;
          if (come < median) below += 1;
        }
      }
      while (below > middle) below -= counts[--median]!;
      while (below + counts[median]! <= middle) below += counts[median++]!;
      out.values[y * width + x] = median / stepsPerCode;
    }
  }
  return out;
}

/** How bright the brightest surface nearby is that holds hold x hold blocks: an opening, then the maximum within reach x reach. */
export function surfaceCeiling(blocks: Plane, hold: number, reach: number): Plane {
  return largest(largest(least(blocks, hold), hold), reach);
}

/** The greatest value within side x side. */
export function largest({ width, height, values }: Plane, side: number): Plane {
  const half = side >> 1;
  const across = planeOf(width, height);
  const out = planeOf(width, height);
  for (let y = 0; y < height; y += 1) {
    const start = y * width;
    for (let x = 0; x < width; x += 1) {
      const last = start + Math.min(width - 1, x + half);
      let best = values[start + x]!;
      for (let at = start + Math.max(0, x - half); at <= last; at += 1) if (values[at]! > best) best = values[at]!;
      across.values[start + x] = best;
    }
  }
  for (let y = 0; y < height; y += 1) {
    const row = out.values.subarray(y * width, (y + 1) * width);
    row.set(across.values.subarray(y * width, (y + 1) * width));
    for (let at = Math.max(0, y - half); at <= Math.min(height - 1, y + half); at += 1) {
      const other = across.values.subarray(at * width, (at + 1) * width);
      for (let x = 0; x < width; x += 1) if (other[x]! > row[x]!) row[x] = other[x]!;
    }
  }
  return out;
}

/** The least value within side x side. */
export function least(picture: Plane, side: number): Plane {
  const turned = largest({ ...picture, values: picture.values.map((value) => -value) }, side);
  return { ...turned, values: turned.values.map((value) => -value) };
}

/** A value at block centres, brought back to one pixel, linear between them. */
export function enlargedAt({ width, height, values }: Plane, block: number, x: number, y: number): number {
  const across = Math.min(Math.max((x + 0.5) / block - 0.5, 0), width - 1);
  const down = Math.min(Math.max((y + 0.5) / block - 0.5, 0), height - 1);
  const [left, top] = [Math.floor(across), Math.floor(down)];
  const [right, bottom] = [Math.min(left + 1, width - 1), Math.min(top + 1, height - 1)];
  const row = (start: number) => values[start + left]! + (across - left) * (values[start + right]! - values[start + left]!);
  const upper = row(top * width);
  return upper + (down - top) * (row(bottom * width) - upper);
}

/** `from` less the values at block centres brought back to its pixels, linear between them. */
export function lessEnlarged(from: Plane, blocks: Plane, block: number): Plane {
  const { width, height } = from;
  const out = planeOf(width, height);
  // One more at the end, so that nothing lies beyond the last.
  const line = new Float32Array(blocks.width + 1);
  const left = Int32Array.from({ length: width }, (_, x) => Math.floor(placed(x, block, blocks.width)));
  const share = Float32Array.from({ length: width }, (_, x) => placed(x, block, blocks.width) - left[x]!);
  for (let y = 0; y < height; y += 1) {
    const down = placed(y, block, blocks.height);
    const top = Math.floor(down);
    const [upper, lower] = [top * blocks.width, Math.min(top + 1, blocks.height - 1) * blocks.width];
    for (let at = 0; at < blocks.width; at += 1) line[at] = blocks.values[upper + at]! + (down - top) * (blocks.values[lower + at]! - blocks.values[upper + at]!);
    line[blocks.width] = line[blocks.width - 1]!;
    for (let x = 0, at = y * width; x < width; x += 1, at += 1) {
      const value = line[left[x]!]!;
      out.values[at] = from.values[at]! - value - share[x]! * (line[left[x]! + 1]! - value);
    }
  }
  return out;
}

/** The picture under a binomial of 5 x 5, near a Gaussian of 1 px. */
export function smoothed({ width, height, values }: Plane): Plane {
  const out = planeOf(width, height);
  const line = new Float32Array(width + 4);
  for (let y = 0; y < height; y += 1) {
    const [a, b, c, d, e] = [y - 2, y - 1, y, y + 1, y + 2].map((row) => within(row, height) * width) as [number, number, number, number, number];
    for (let x = 0; x < width; x += 1) line[x + 2] = (values[a + x]! + 4 * values[b + x]! + 6 * values[c + x]! + 4 * values[d + x]! + values[e + x]!) / 16;
    line.fill(line[2]!, 0, 2);
    line.fill(line[width + 1]!, width + 2);
    for (let x = 0; x < width; x += 1) out.values[c + x] = (line[x]! + 4 * line[x + 1]! + 6 * line[x + 2]! + 4 * line[x + 3]! + line[x + 4]!) / 16;
  }
  return out;
}

/** The picture under a symmetric kernel both ways; `half` are its weights from the middle outwards. */
export function convolved({ width, height, values }: Plane, half: readonly number[]): Plane {
  const rows = planeOf(width, height);
  const out = planeOf(width, height);
  const reach = half.length - 1;
  const weights = Float64Array.from(half);
  for (let y = 0; y < height; y += 1) {
    const start = y * width;
    for (let step = 0; step <= reach; step += 1) {
      const [up, down] = [Math.max(0, y - step) * width, Math.min(height - 1, y + step) * width];
      const weight = step === 0 ? weights[0]! / 2 : weights[step]!;
      for (let x = 0; x < width; x += 1) rows.values[start + x]! += weight * (values[up + x]! + values[down + x]!);
    }
  }
  const line = new Float32Array(width + 2 * reach);
  for (let y = 0; y < height; y += 1) {
    const start = y * width;
    line.set(rows.values.subarray(start, start + width), reach);
    line.fill(line[reach]!, 0, reach);
    line.fill(line[reach + width - 1]!, reach + width);
    for (let x = 0; x < width; x += 1) {
      let sum = weights[0]! * line[x + reach]!;
      for (let step = 1; step <= reach; step += 1) sum += weights[step]! * (line[x + reach - step]! + line[x + reach + step]!);
      out.values[start + x] = sum;
    }
  }
  return out;
}

/** The weights of a Gaussian from its middle outwards, cut at four sigmas. */
export function gaussian(sigma: number): number[] {
  const half = Array.from({ length: Math.floor(4 * sigma + 0.5) + 1 }, (_, far) => Math.exp(-0.5 * (far / sigma) ** 2));
  const sum = half.reduce((all, weight) => all + 2 * weight, -half[0]!);
  return half.map((weight) => weight / sum);
}

/** Means over side x side px. */
export function boxMean({ width, height, values }: Plane, side: number): Plane {
  const half = side >> 1;
  const out = planeOf(width, height);
  const columns = new Float64Array(width);
  for (let down = -half; down <= half; down += 1) addRow(columns, values, within(down, height) * width, 1);
  for (let y = 0; y < height; y += 1) {
    if (y > 0) {
      addRow(columns, values, within(y - half - 1, height) * width, -1);
      addRow(columns, values, within(y + half, height) * width, 1);
    }
    let sum = 0;
    for (let across = -half; across <= half; across += 1) sum += columns[within(across, width)]!;
    for (let x = 0; x < width; x += 1) {
      if (x > 0) sum += columns[within(x + half, width)]! - columns[within(x - half - 1, width)]!;
      out.values[y * width + x] = sum / (side * side);
    }
  }
  return out;
}

/** Counts levels in steps of 1/stepsPerCode within +-mostCode, to ask for ranks without sorting. */
export class Levels {
  readonly #counts: Uint32Array;
  readonly #offset: number;
  count = 0;

  constructor(readonly stepsPerCode: number, readonly mostCode: number) {
    this.#offset = stepsPerCode * mostCode;
    this.#counts = new Uint32Array(2 * this.#offset + 1);
  }

  add(value: number): void {
    const { mostCode } = this;
    const cut = value > mostCode ? mostCode : value < -mostCode ? -mostCode : value;
    this.#counts[Math.floor(cut * this.stepsPerCode + 0.5) + this.#offset]! += 1;
    this.count += 1;
  }

  /** All at once: over typed arrays a plain loop runs several times as fast. */
  addAll(values: Float32Array): void {
    const [counts, offset, steps, most] = [this.#counts, this.#offset, this.stepsPerCode, this.mostCode];
    for (let index = 0; index < values.length; index += 1) {
      const value = values[index]!;
      const cut = value > most ? most : value < -most ? -most : value;
      counts[Math.floor(cut * steps + 0.5) + offset]! += 1;
    }
    this.count += values.length;
  }

  /** The level that `share` of the values do not exceed, in whole steps. There must be a value. */
  rank(share: number): number {
    const rank = Math.max(0, Math.ceil(share * this.count) - 1);
    let step = 0;
    for (let seen = this.#counts[0]!; seen <= rank; seen += this.#counts[step]!) step += 1;
    return (step - this.#offset) / this.stepsPerCode;
  }

  clear(): void {
    this.#counts.fill(0);
    this.count = 0;
  }
}

function placed(at: number, block: number, count: number): number {
  return Math.min(Math.max((at + 0.5) / block - 0.5, 0), count - 1);
}

function addRow(columns: Float64Array, values: Float32Array, start: number, sign: number): void {
  for (let x = 0; x < columns.length; x += 1) columns[x]! += sign * values[start + x]!;
}

function within(at: number, size: number): number {
  return at < 0 ? 0 : at >= size ? size - 1 : at;
}
