// Runs every vector in tests/vectors through the web side of the domain; the server's tests run the same files.

import { describe, expect, test } from "vitest";
import { type Catalogue, loadCatalogue } from "./catalogue.ts";

interface Case {
  readonly id: string;
  readonly why: string;
  readonly in: readonly unknown[];
  readonly out?: unknown;
  /** The message of the RangeError it ends in. */
  readonly error?: string;
  readonly tolerance?: number;
}

interface Vectors {
  readonly function: string;
  readonly cases: readonly Case[];
}

type Call = (...values: unknown[]) => unknown;

const FILES = import.meta.glob<Vectors | Vectors[]>("../../../tests/vectors/*.json", { eager: true, import: "default" });
const MODULES = import.meta.glob<Record<string, Call>>(["./*.ts", "!./*.test.ts"]);

const camelCase = (name: string) => name.replace(/_([a-z])/g, (_, letter: string) => letter.toUpperCase());

function isCatalogue(value: unknown): boolean {
  return typeof value === "object" && value !== null && "$catalogue" in value;
}

/** What JSON makes of a value: nothing is null, and a property that is undefined is not there. */
function asJson(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value ?? null));
}

/** Where two JSON values differ first; null if they do not. */
function difference(expected: unknown, got: unknown, tolerance: number | undefined, where = "out"): string | null {
  if (typeof expected === "object" && typeof got === "object" && expected && got && Array.isArray(expected) === Array.isArray(got)) {
    const [left, right] = [expected as Record<string, unknown>, got as Record<string, unknown>];
    const keys = [...new Set([...Object.keys(left), ...Object.keys(right)])];
    for (const key of keys) {
      if (!(key in left) || !(key in right)) return `${where}.${key} is only on one side`;
      const found = difference(left[key], right[key], tolerance, `${where}.${key}`);
      if (found) return found;
    }
    return null;
  }
  const near = typeof expected === "number" && typeof got === "number" && tolerance !== undefined && Math.abs(expected - got) <= tolerance;
  return expected === got || near ? null : `${where}: ${JSON.stringify(expected)} is ${JSON.stringify(got)}`;
}

async function callOf(name: string): Promise<Call> {
  const [module = "", call = ""] = name.split(".");
  const found = (await MODULES[`./${module}.ts`]?.())?.[camelCase(call)];
  if (!found) throw new Error(`the domain has no ${name}`);
  return found;
}

/** Arguments of its own for each call, so that no case can spoil the next. */
function argumentsOf(one: Case, catalogue: Catalogue): unknown[] {
  return one.in.map((value) => (isCatalogue(value) ? catalogue : structuredClone(value)));
}

for (const { function: name, cases } of Object.values(FILES).flat()) {
  describe(name, () => {
    test.each(cases.map((one) => [one.id, one] as const))("%s", async (_, one) => {
      const call = await callOf(name);
      const values = argumentsOf(one, await loadCatalogue());
      if (one.error !== undefined) {
        expect(() => call(...values), one.why).toThrow(new RangeError(one.error));
        return;
      }
      expect(difference(one.out, asJson(call(...values)), one.tolerance), one.why).toBeNull();
    });
  });
}
