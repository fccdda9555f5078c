// What an export of a seller hands over (wording: own; all people and things are invented).
import { expect, it } from "vitest";
import type { Rec } from "../../store/store.ts";
import { sellerText } from "./seller_text.ts";

const rec = (kind: string, values: Record<string, unknown>): Rec => ({ id: kind.padEnd(32, "0"), kind, values, fields: {} });

it("holds every entry, the story, the private notes and the claims in their words", () => {
  const text = sellerText({
    seller: rec("seller", { name: "quarry_lane", venue_kind: "social_group", note: "Answers late" }), others: [rec("other", { name: "Quarry Lane Finds", place: "by post" })],
    events: [{ day: "2026-04-20", kind: "dealing", record: "d", tone: "worn", say: "Mixed: did not know", more: "Packed well: yes" }],
    dealings: [rec("dealing", { day: "2026-04-20", note: "Gave back a third" })], claims: [rec("claim", { day: "2026-04-02", check: "a.b", asserted: { outcome: "in_order" }, words: "like new" })],
    titles: new Map([["a.b", "Bellows light"]]), day: "2026-05-01",
  });
  for (const part of ["quarry_lane, Social group", "Note: Answers late", "Quarry Lane Finds, by post", "2026-04-20: Mixed: did not know: Packed well: yes", "2026-04-20: Gave back a third", "Bellows light, claimed in order: “like new”"]) expect(text).toContain(part);
});
