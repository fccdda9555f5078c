// The answer to "every marked speed" that a measured row suggests; the person gives it, never the machine.
import type { Row } from "../../domain/shutter_table.ts";
import type { Result } from "../check/save.ts";

export const SPEEDS_CHECK = "lens.shutter.speeds";

/** Null where sound does not decide: no clear reading, or a mark too fast for it. `faults` are the ids the check knows. */
export function proposal({ band }: Pick<Row, "band">, faults: readonly string[]): Result | null {
  if (band === "fine") return { outcome: "in_order" };
  if (band === "usable") return { outcome: "worn" };
  const fault = band === "erratic" ? "scatter" : band === "needs_service" ? "slow_group" : null;
  return fault !== null && faults.includes(fault) ? { outcome: "faulty", faults: [fault] } : null;
}
