// Amounts of money: typed the way people write them, kept in the currency's smallest unit, shown the same on both sides.

export interface Money {
  readonly minor: number;
  /** ISO 4217 code. */
  readonly currency: string;
}

// Currencies without a hundredth (ISO 4217, from memory); all others have two decimals.
const NO_DECIMALS = new Set(["BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF"]);
const THREE_DECIMALS = new Set(["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"]);
const MOST_MINOR = 1e12;
const GROUPED = /^\d{1,3}(?:[.,' ]\d{3})+$/;
const PLAIN = /^\d{1,15}$/;
const NOT_MONEY = "Type an amount, as in 120 or 89.50.";

/** Decimals of a currency's amounts. */
export function decimals(currency: string): number {
  if (NO_DECIMALS.has(currency)) return 0;
  return THREE_DECIMALS.has(currency) ? 3 : 2;
}

/** "1 234.50 EUR", "120 EUR", "−30 EUR", with spaces that do not break across lines. */
export function showMoney({ minor, currency }: Money): string {
  const digits = decimals(currency);
  const text = String(Math.abs(minor)).padStart(digits + 1, "0");
  const whole = text.slice(0, text.length - digits).replace(/\B(?=(?:\d{3})+$)/g, "\u00a0");
  const rest = text.slice(text.length - digits);
  return `${minor < 0 ? "−" : ""}${whole}${/[1-9]/.test(rest) ? `.${rest}` : ""}\u00a0${currency}`;
}

/**
 * The amount a person typed: decimals after a point or a comma, thousands grouped by point, comma, apostrophe or space.
 *
 * A last group of three digits is a thousand where the currency has no three decimals. Throws RangeError with a message
 * for the person.
 */
export function parseMoney(text: string, currency: string): Money {
  if (!/^[A-Z]{3}$/.test(currency)) throw new RangeError("Pick a currency first.");
  const typed = text.trim().replace(/[\u00a0\u202f]/g, " ").replace(/’/g, "'");
  const digits = decimals(currency);
  const split = digits > 0 ? new RegExp(`^(.*)[.,](\\d{1,${digits}})$`).exec(typed) : null;
  const whole = split ? split[1]! : typed;
  if (!PLAIN.test(whole) && !GROUPED.test(whole)) throw new RangeError(NOT_MONEY);
  const minor = Number(whole.replace(/\D/g, "") + (split?.[2] ?? "").padEnd(digits, "0"));
  if (minor > MOST_MINOR) throw new RangeError("That is more than can be kept; check the figure.");
  return { minor, currency };
}
