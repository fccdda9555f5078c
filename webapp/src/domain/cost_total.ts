// The sum of uncertain amounts: each a triangle of low, likely and high that comes with a chance; summed on a fine grid, no dice.
//
// Each amount is laid on the grid so that its mean is kept exactly, then the amounts are convolved: the mean of the total is
// exact, its quantiles are good to about one cell of 1/512 of the whole span.

const CELLS = 512;
export const QUANTILES = { low: 0.025, middle: 0.5, high: 0.975 } as const;

/** Below nought it takes away. */
export interface UncertainAmount { readonly low: number; readonly likely: number; readonly high: number; readonly chance: number }
/** The chance of each amount start + k step. */
export interface Distribution { readonly start: number; readonly step: number; readonly masses: readonly number[] }

/** Throws RangeError where low, likely and high are out of order or a chance is not between 0 and 1. */
export function distribution(parts: readonly UncertainAmount[], cells: number = CELLS): Distribution {
  for (const { low, likely, high, chance } of parts) {
    if (!(low <= likely && likely <= high && chance >= 0 && chance <= 1)) throw new RangeError("An uncertain amount needs low, likely and high in this order, and a chance between 0 and 1.");
  }
  const bounds = parts.map(boundsOf);
  const start = bounds.reduce((sum, [low]) => sum + low, 0);
  const width = bounds.reduce((sum, [low, high]) => sum + high - low, 0);
  if (width <= 0) return { start, step: 1, masses: [1] };
  const step = width / cells;
  let total = Float64Array.of(1);
  for (const [at, part] of parts.entries()) {
    const [low, high] = bounds[at]!;
    if (high > low) total = convolved(total, laidOut(part, low, high, step));
  }
  return { start, step, masses: [...total] };
}

/** The amount that is not exceeded with that chance; between two grid points on a straight line. */
export function quantile({ start, step, masses }: Distribution, share: number): number {
  if (masses.length === 1) return start;
  const wanted = share * masses.reduce((sum, mass) => sum + mass, 0);
  let soFar = 0;
  for (const [at, mass] of masses.entries()) {
    if (soFar + mass >= wanted && mass > 0) return start + step * (at - 0.5 + (wanted - soFar) / mass);
    soFar += mass;
  }
  return start + step * (masses.length - 1);
}

/** The mean of one uncertain amount. */
export function meanOf({ low, likely, high, chance }: UncertainAmount): number {
  return (chance * (low + likely + high)) / 3;
}

/** The variance of one uncertain amount, the chance that it does not come included. */
export function varianceOf({ low, likely, high, chance }: UncertainAmount): number {
  const middle = (low + likely + high) / 3;
  const own = (low * low + likely * likely + high * high - low * likely - low * high - likely * high) / 18;
  return chance * (own + middle * middle) - (chance * middle) ** 2;
}

/** Smallest and largest amount; nought is one of them where the amount may not come. */
function boundsOf({ low, high, chance }: UncertainAmount): readonly [number, number] {
  if (chance === 0) return [0, 0];
  return chance === 1 ? [low, high] : [Math.min(0, low), Math.max(0, high)];
}

/** Masses at low, low + step, ...: each point takes what lies near it, by a hat of two cells, which keeps the mean. */
function laidOut(part: UncertainAmount, low: number, high: number, step: number): Float64Array<ArrayBuffer> {
  const points = Math.ceil((high - low) / step - 1e-9) + 1;
  const ramps = Float64Array.from({ length: points + 2 }, (_, at) => ramp(part, low + step * (at - 1)));
  const masses = Float64Array.from({ length: points }, (_, at) => (part.chance * (ramps[at + 2]! - 2 * ramps[at + 1]! + ramps[at]!)) / step);
  if (part.chance < 1) {
    const nought = -low / step;
    const at = Math.floor(nought);
    masses[at]! += (1 - part.chance) * (1 - (nought - at));
    if (nought > at) masses[at + 1]! += (1 - part.chance) * (nought - at);
  }
  return masses;
}

/** The integral of the triangle's distribution function up to a point. */
function ramp({ low, likely, high }: UncertainAmount, at: number): number {
  if (high === low) return Math.max(at - low, 0);
  if (at <= likely) return likely > low ? (Math.max(at, low) - low) ** 3 / (3 * (high - low) * (likely - low)) : 0;
  const falling = high > likely ? (high - Math.min(at, high)) ** 3 / (3 * (high - low) * (high - likely)) : 0;
  return at - (low + likely + high) / 3 + falling;
}

function convolved(a: Float64Array, b: Float64Array): Float64Array<ArrayBuffer> {
  const sum = new Float64Array(a.length + b.length - 1);
  for (const [i, x] of a.entries()) for (const [j, y] of b.entries()) sum[i + j]! += x * y;
  return sum;
}
