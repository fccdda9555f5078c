// Random runs of two phones against the server in memory, with the n-th operation of the database failing, and every n in a written run.
// The promises are those of backend/barnlight/sync/README.md; BARNLIGHT_DEEP=N makes N times as many runs and tries every kind of failure.
import "fake-indexeddb/auto";
import fc from "fast-check";
import { afterAll, beforeAll, expect, it, vi } from "vitest";
import { aSale } from "./testing/a_sale.ts";
import { FAILURES, standInFront } from "./testing/failing_database.ts";
import type { Plant } from "./testing/model_phone.ts";
import { FAULTS } from "./testing/planted.ts";
import { run, someSteps } from "./testing/run_steps.ts";

const DEEP = Number(process.env["BARNLIGHT_DEEP"] ?? 0);
const RUNS = 60 * Math.max(1, DEEP);
const SEED = 42;

let standBack: () => void;
beforeAll(() => { standBack = standInFront(); });
afterAll(() => { standBack(); vi.unstubAllGlobals(); });

it("keeps every promise in random runs", async () => {
  await fc.assert(fc.asyncProperty(someSteps, (steps) => run(steps)), { numRuns: RUNS, seed: SEED });
}, 120_000 * Math.max(1, DEEP));

it("keeps every promise whichever operation of the database fails, for every one of a sale's", async () => {
  const count = await aSale(0);
  expect(count).toBeGreaterThan(300);
  for (let nth = 1; nth <= count; nth += 1) {
    for (const how of DEEP ? FAILURES : [FAILURES[nth % FAILURES.length]!]) await aSale(nth, how);
  }
}, 240_000);

it.each(Object.keys(FAULTS))("catches a planted fault: %s", async (name) => {
  expect(await caught(FAULTS[name]!), "some run must break a promise").toBe(true);
}, 120_000);

/** Whether the written run, whole or with failures along it, or a random one breaks a promise. */
async function caught(plant: Plant): Promise<boolean> {
  const breaks = (work: Promise<unknown>) => work.then(() => false, () => true);
  if (await breaks(aSale(0, "quota", plant))) return true;
  for (let nth = 1; nth < 300; nth += 7) if (await breaks(aSale(nth, "abort", plant))) return true;
  for (const steps of fc.sample(someSteps, { numRuns: RUNS, seed: SEED })) if (await breaks(run(steps, plant))) return true;
  return false;
}
