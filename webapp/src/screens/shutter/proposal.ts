// The answer to "every marked speed" that a measured row suggests; the person gives it, never the machine.
import type { Mark, Row } from "../../domain/shutter_table.ts";
import type { Result } from "../check/save.ts";

export const SPEEDS_CHECK = "lens.shutter.speeds";

/**
 * Null where sound does not decide. A mark too fast for it is "cannot tell, good up to" the fastest good speed, if there is
 * one. `faults` are the ids the check knows.
 */
export function proposal({ band }: Pick<Row, "band">, faults: readonly string[], goodUpTo: Mark | null): Result | null {
  if (band === "indication_only") return goodUpTo && { outcome: "cannot_tell", good_up_to: goodUpTo };
  if (band === "fine") return { outcome: "in_order" };
  if (band === "usable") return { outcome: "worn" };
  const fault = band === "erratic" ? "scatter" : band === "needs_service" ? "slow_group" : null;
  return fault !== null && faults.includes(fault) ? { outcome: "faulty", faults: [fault] } : null;
}
