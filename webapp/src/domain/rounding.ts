// Rounding as people do it on paper: halves away from zero, by the decimal digits a number is written with.

const WRITTEN = /^(-?)(\d)(?:\.(\d+))?e([+-]\d+)$/;

/** `x` to `digits` decimals: 0.285 is 0.29 and -2.5 is -3. Throws RangeError if it is no finite number. */
export function halfAway(x: number, digits: number): number {
  const { negative, scaled } = scaledTo(x, digits);
  return Number(`${negative ? "-" : ""}${scaled}e${-digits}`);
}

/** The same as text with exactly `digits` decimals; zero has no sign. */
export function fixed(x: number, digits: number): string {
  const { negative, scaled } = scaledTo(x, digits);
  const text = scaled.toString().padStart(digits + 1, "0");
  const whole = text.slice(0, text.length - digits);
  return `${negative ? "-" : ""}${whole}${digits > 0 ? `.${text.slice(-digits)}` : ""}`;
}

/** |x| times a power of ten, rounded on the digits of its shortest text and so free of binary remainders. */
function scaledTo(x: number, digits: number): { negative: boolean; scaled: bigint } {
  const written = WRITTEN.exec(x.toExponential());
  if (!written) throw new RangeError(`not a finite number: ${x}`);
  const [, sign, first, rest = "", exponent] = written;
  const all = first + rest;
  const kept = Number(exponent) + 1 + digits;
  let scaled: bigint;
  if (kept >= all.length) scaled = BigInt(all) * 10n ** BigInt(kept - all.length);
  else if (kept < 0) scaled = 0n;
  else scaled = BigInt(all.slice(0, kept) || "0") + (all[kept]! >= "5" ? 1n : 0n);
  return { negative: sign === "-" && scaled !== 0n, scaled };
}
