// A written run with all that a sale has in it, once, in which every operation of the database can be made to fail.
import { failAt, operations, type Failure } from "./failing_database.ts";
import { RECORDS, type Plant } from "./model_phone.ts";
import { type Step, World } from "./run_steps.ts";

const edit = (who: 0 | 1, field: "title" | "note" = "title"): Step => ({ does: "edit", who, record: RECORDS[0], field, refused: false });

const STEPS: readonly Step[] = [
  edit(0), { does: "photo", who: 0 }, edit(0, "note"), { does: "round", who: 0 }, { does: "round", who: 1 }, edit(1),
  { does: "edit", who: 1, record: RECORDS[1], field: "note", refused: true }, { does: "round", who: 1, line: { nth: 1, what: "answer lost" } },
  { does: "clock", who: 0, offsetMs: -3_600_000 }, { does: "round", who: 1 }, { does: "round", who: 0 }, { does: "restart", who: 0 }, edit(0),
  { does: "let go", who: 0 }, { does: "server restored", who: 0 }, { does: "round", who: 1 }, { does: "round", who: 0 },
];

/** Runs it with the `nth` operation failing (0: none); gives how many operations there were. */
export async function aSale(nth: number, how: Failure = "quota", plant?: Plant): Promise<number> {
  const world = new World(plant);
  try {
    await world.begin();
    failAt(nth, how);
    for (const step of STEPS) await world.step(step);
    const count = operations();
    await world.end();
    return count;
  } catch (error) {
    throw new Error(`operation ${nth} failed as ${how}`, { cause: error });
  } finally {
    failAt(0);
    world.close();
  }
}
