// Small statistics with their uncertainty: a share, a middle and a weighted middle, for samples of a few.

const LEVEL = 0.95;
export const Z = 1.959963984540054; // 97.5 % of the normal distribution

/** Hits among `of` trials with 95 %. Source: NIST handbook 7.2.4.1. Throws RangeError for none or too many. */
export function wilson(hits: number, of: number): { share: number; low: number; high: number } {
  if (of <= 0 || hits < 0 || hits > of) throw new RangeError("A share needs at least one trial, and no more hits than trials.");
  const share = hits / of;
  const extra = (Z * Z) / of;
  const middle = (share + extra / 2) / (1 + extra);
  const half = (Z / (1 + extra)) * Math.sqrt((share * (1 - share)) / of + extra / (4 * of));
  return { share, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** The middle 95 % of a beta distribution. Throws RangeError unless both counts are above 0. */
export function betaInterval(a: number, b: number): { mean: number; low: number; high: number } {
  if (a <= 0 || b <= 0) throw new RangeError("Both counts must be above nought.");
  const tail = (1 - LEVEL) / 2;
  return { mean: a / (a + b), low: betaQuantile(tail, a, b), high: betaQuantile(1 - tail, a, b) };
}

/** The one in the middle, or halfway between the two there. */
export function median(values: readonly number[]): number {
  const ordered = [...values].sort((a, b) => a - b);
  const half = ordered.length >> 1;
  return ordered.length % 2 === 1 ? ordered[half]! : (ordered[half - 1]! + ordered[half]!) / 2;
}

/**
 * Two of the values in order that hold the middle of a population of any shape, and how surely.
 *
 * The narrowest pair that holds the middle with 95 %, else smallest and largest with what those give: 1 - 2^(1-n).
 * Source: order statistics and the binomial distribution (figures: n = 5 .9375, n = 6 .96875). Throws RangeError for none.
 */
export function medianInterval(values: readonly number[]): { low: number; high: number; coverage: number } {
  if (values.length === 0) throw new RangeError("There are no values.");
  const ordered = [...values].sort((a, b) => a - b);
  const n = ordered.length;
  let [cut, outside, tail, ways] = [0, 2 * 0.5 ** n, 0.5 ** n, 1];
  for (let k = 1; k < Math.floor(n / 2); k += 1) {
    ways *= (n - k + 1) / k;
    tail += ways * 0.5 ** n;
    if (1 - 2 * tail < LEVEL) break;
    [cut, outside] = [k, 2 * tail];
  }
  return { low: ordered[cut]!, high: ordered[n - 1 - cut]!, coverage: Math.max(0, 1 - outside) };
}

/**
 * The value below which that share of the weight lies; halfway between two where the share falls exactly between them.
 *
 * With equal weights and a share of 1/2 it is the ordinary median. Throws RangeError where nothing has weight.
 */
export function weightedQuantile(values: readonly number[], weights: readonly number[], share: number): number {
  const pairs = values
    .map((value, at) => ({ value, weight: weights[at]! }))
    .filter(({ weight }) => weight > 0)
    .sort((a, b) => a.value - b.value || a.weight - b.weight);
  if (pairs.length === 0) throw new RangeError("There are no values.");
  const wanted = share * pairs.reduce((sum, { weight }) => sum + weight, 0);
  let soFar = 0;
  for (const [at, { value, weight }] of pairs.entries()) {
    soFar += weight;
    const next = pairs[at + 1];
    if (next && Math.abs(soFar - wanted) <= 1e-9 * soFar) return (value + next.value) / 2;
    if (soFar > wanted) return value;
  }
  return pairs.at(-1)!.value;
}

/** By halving: fifty steps are below the last digit of a double. */
function betaQuantile(share: number, a: number, b: number): number {
  let [low, high] = [0, 1];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (betaShare(middle, a, b) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The regularised incomplete beta function, by its continued fraction on the side where that converges fast. */
function betaShare(x: number, a: number, b: number): number {
  if (x <= 0 || x >= 1) return x <= 0 ? 0 : 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  return x < (a + 1) / (a + b + 2) ? (front * fraction(x, a, b)) / a : 1 - (front * fraction(1 - x, b, a)) / b;
}

/** Evaluated forwards by Lentz's way; source: the standard expansion, as in the DLMF 8.17.22. */
function fraction(x: number, a: number, b: number): number {
  const safe = (value: number) => (Math.abs(value) < 1e-300 ? 1e-300 : value);
  let c = 1;
  let d = 1 / safe(1 - ((a + b) * x) / (a + 1));
  let result = d;
  for (let m = 1; m <= 500; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / safe(1 + even * d);
    c = safe(1 + even / c);
    result *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / safe(1 + odd * d);
    c = safe(1 + odd / c);
    result *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  return result;
}

/** Stirling's series after stepping up to where it is exact to the last digits; source: DLMF 5.11.1. */
function logGamma(x: number): number {
  let [shift, at] = [0, x];
  for (; at < 12; at += 1) shift -= Math.log(at);
  const square = 1 / (at * at);
  const series = (1 / 12 - square * (1 / 360 - square * (1 / 1260 - square * (1 / 1680 - square / 1188)))) / at;
  return shift + (at - 0.5) * Math.log(at) - at + 0.5 * Math.log(2 * Math.PI) + series;
}
