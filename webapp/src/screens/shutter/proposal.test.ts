// Which answer a band of error suggests (handbook 5: fine, usable, beyond or erratic needs service; faster than sound can judge, none).
import lens from "@catalogue/checks_lens.json";
import { expect, it } from "vitest";
import { proposal, SPEEDS_CHECK } from "./proposal.ts";

const check = lens.checks.find((one) => one.id === SPEEDS_CHECK)!;
const faults = check.faults.map((one) => one.id);

it("suggests an outcome for what was judged, with a fault of the catalogue where it is faulty", () => {
  expect(proposal({ band: "fine" }, faults)).toEqual({ outcome: "in_order" });
  expect(proposal({ band: "usable" }, faults)).toEqual({ outcome: "worn" });
  expect(proposal({ band: "needs_service" }, faults)).toEqual({ outcome: "faulty", faults: ["slow_group"] });
  expect(proposal({ band: "erratic" }, faults)).toEqual({ outcome: "faulty", faults: ["scatter"] });
});

it("suggests nothing where sound does not decide, or the catalogue has no such fault", () => {
  expect([proposal({ band: "indication_only" }, faults), proposal({ band: "not_judged" }, faults), proposal({ band: "erratic" }, [])]).toEqual([null, null, null]);
});
