// Makes one chosen operation of IndexedDB fail, the way browsers make them fail, and counts those that were asked for.
import { IDBDatabase, IDBIndex, IDBObjectStore } from "fake-indexeddb";

/**
 * `quota`: no room (QuotaExceededError at the operation); `broken`: the disk says no (UnknownError); `abort`: the operation
 * succeeds, then the browser takes the transaction back; `kill`: the page dies, nothing after it is done until `revive`.
 */
export type Failure = "quota" | "broken" | "abort" | "kill";
export const FAILURES: readonly Failure[] = ["quota", "broken", "abort", "kill"];

const OF_TABLE = ["get", "getAll", "getAllKeys", "count", "put", "add", "delete", "clear"] as const;
const OF_INDEX = ["get", "getKey", "getAll", "count"] as const;

let asked = 0;
let failing = 0;
let failure: Failure = "quota";
let dead = false;

/** Operations asked for since `failAt`. */
export const operations = (): number => asked;
export const isDead = (): boolean => dead;

/** The `nth` operation from now on fails; 0 means none. */
export function failAt(nth: number, how: Failure = "quota"): void {
  [asked, failing, failure] = [0, nth, how];
}

/** The page is opened again. */
export function revive(): void { dead = false; }

/** Runs `look` with nothing failing or counted, then arms again what was armed. */
export async function aside<T>(look: () => Promise<T>): Promise<T> {
  const armed = [asked, failing, dead] as const;
  [failing, dead] = [0, false];
  try {
    return await look();
  } finally {
    [asked, failing, dead] = armed;
  }
}

/** Stands in front of every operation of fake-indexeddb from now on; gives the way back. */
export function standInFront(): () => void {
  const undo: (() => void)[] = [];
  const guard = (owner: object, names: readonly string[]) => {
    for (const name of names) {
      const real = (owner as any)[name] as (...given: unknown[]) => unknown;
      (owner as any)[name] = function (this: any, ...given: unknown[]) { return pass(this, () => real.apply(this, given)); };
      undo.push(() => { (owner as any)[name] = real; });
    }
  };
  guard(IDBObjectStore.prototype, OF_TABLE);
  guard(IDBIndex.prototype, OF_INDEX);
  guard(IDBDatabase.prototype, ["transaction"]);
  return () => { for (const back of undo) back(); };
}

function pass(owner: any, real: () => any): unknown {
  asked += 1;
  if (!dead && asked !== failing) return real();
  dead ||= failure === "kill";
  const error = new DOMException("made by the test", dead ? "AbortError" : failure === "quota" ? "QuotaExceededError" : "UnknownError");
  const takenBack = !dead && failure === "abort";
  if (owner instanceof IDBDatabase) {
    if (!takenBack) throw error;
    const transaction = real();
    if (transaction.mode === "readwrite") queueMicrotask(() => { takeBack(transaction); });
    return transaction;
  }
  const request = real();
  const { transaction } = request;
  if (takenBack && transaction.mode === "readwrite") request.addEventListener("success", () => { takeBack(transaction); });
  // Browsers tell of an error by an event, later; fake-indexeddb keeps what is still to be done in a list.
  else transaction._requests.at(-1).operation = () => { throw error; };
  // One that only reads would end as well, which nobody who reads by idb can hear.
  if (transaction.mode === "readonly") request.addEventListener("error", (event: Event) => { event.preventDefault(); event.stopPropagation(); });
  return request;
}

function takeBack(transaction: IDBTransaction): void {
  try {
    transaction.abort();
  } catch { /* it had ended by itself */ }
}
