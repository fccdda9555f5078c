// Which answer a band of error suggests (handbook 5: fine, usable, beyond or erratic needs service; faster than sound can judge, none).
import lens from "@catalogue/checks_lens.json";
import { expect, it } from "vitest";
import { proposal, SPEEDS_CHECK } from "./proposal.ts";

const check = lens.checks.find((one) => one.id === SPEEDS_CHECK)!;
const faults = check.faults.map((one) => one.id);

it("suggests an outcome for what was judged, with a fault of the catalogue where it is faulty", () => {
  expect(proposal({ band: "fine" }, faults, null)).toEqual({ outcome: "in_order" });
  expect(proposal({ band: "usable" }, faults, null)).toEqual({ outcome: "worn" });
  expect(proposal({ band: "needs_service" }, faults, null)).toEqual({ outcome: "faulty", faults: ["slow_group"] });
  expect(proposal({ band: "erratic" }, faults, null)).toEqual({ outcome: "faulty", faults: ["scatter"] });
});

it("suggests nothing where sound does not decide, or the catalogue has no such fault", () => {
  expect([proposal({ band: "indication_only" }, faults, null), proposal({ band: "not_judged" }, faults, null), proposal({ band: "erratic" }, [], null)]).toEqual([null, null, null]);
});

it("suggests \"good up to\" the fastest good speed at a mark too fast for sound, never a pass or a fail", () => {
  const goodUpTo = { text: "1/125", seconds: 0.008 };
  expect(proposal({ band: "indication_only" }, faults, goodUpTo)).toEqual({ outcome: "cannot_tell", good_up_to: goodUpTo });
});
