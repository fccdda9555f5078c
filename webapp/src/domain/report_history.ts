// What stands beside the looking in a report: claims held apart from what was seen, repairs, film tests and cautions.

import type { Catalogue } from "./catalogue.ts";
import { applicable } from "./checks.ts";
import { claimOutcome, SOUND } from "./claim_outcome.ts";
import { gallery, type Picture } from "./report_photos.ts";
import type { ReportAnswer, ReportClaim, ReportFilmTest, ReportPiece, ReportRepair } from "./report_records.ts";
import { byKey, dayWords, placeWords, titleOf } from "./report_words.ts";

const BY: Readonly<Record<string, string>> = { seller: "who offered it", earlier_owner: "an earlier owner", repairer: "a repairer" };
// Cautions for the hand that buys, not for the hand that reads.
const NOT_FOR_READERS = ["ask_first", "record_leave", "ears_phone", "smell_not_sought"];

/** What others asserted, with what was seen of it since (`answers` of all visits); their own words are private and stay out. */
export function claims(records: readonly ReportClaim[], answers: readonly ReportAnswer[], catalogue: Pick<Catalogue, "checks" | "terms">) {
  const ordered = [...records].sort(byText((claim) => [claim.day ?? "", claim.id]));
  return ordered.flatMap((claim) => {
    const check = catalogue.checks.find(({ id }) => id === claim.check);
    if (!check || !claim.asserted) return [];
    return [{
      what: check.title,
      where: placeWords(claim.place ?? "", catalogue),
      by: BY[claim.by ?? ""] ?? "somebody else",
      day: dayWords(claim.day),
      asserted: titleOf(catalogue.terms.outcomes, claim.asserted.outcome).toLowerCase(),
      evidence: titleOf(catalogue.terms.evidence_kinds, claim.evidence, "words").toLowerCase(),
      since: since(claim, answers),
    }];
  });
}

/** Work done or promised; who did it and what it cost are private. */
export function repairs(records: readonly ReportRepair[], catalogue: Pick<Catalogue, "remedies">) {
  return [...records]
    .sort(byText((one) => [one.back || one.sent || "", one.id]))
    .map((one) => ({ what: one.what || titleOf(catalogue.remedies, one.remedy, "Work not named"), when: repairDays(one) }));
}

/** Films made with it; `photos`: the pictures of the report by the id of their photo. */
export function filmTests(records: readonly ReportFilmTest[], photos: ReadonlyMap<string, Picture>) {
  return [...records]
    .sort(byText((one) => [one.day ?? "", one.id]))
    .map(({ day, setup = {}, found, photo }) => ({ day: dayWords(day), setup: setupWords(setup), found: found || "nothing noted", pictures: gallery([photos.get(photo ?? "") ?? []].flat()) }));
}

/** Those of the shutter's kind, of what was found wrong or not looked at, and of holders that may not be empty. */
export function cautions(piece: ReportPiece, answers: readonly ReportAnswer[], catalogue: Pick<Catalogue, "checks" | "cautions" | "shutter_kinds">) {
  const said = new Map(answers.map(({ check, result }) => [check, result?.outcome]));
  const kind = catalogue.shutter_kinds.find(({ id }) => id === piece.shutter_kind);
  const open = applicable(piece, catalogue).filter(({ id }) => !["in_order", "does_not_apply"].includes(said.get(id) ?? ""));
  const called = new Set([...(kind?.cautions ?? []), ...open.flatMap((check) => check.cautions)]);
  return catalogue.cautions
    .filter(({ id }) => called.has(id) && !NOT_FOR_READERS.includes(id))
    .map(({ title, say }) => ({ caution: title, say }));
}

function byText<T>(key: (one: T) => readonly [string, string]) {
  return (a: T, b: T) => byKey<T>((one) => [0, key(one)[0]])(a, b) || byKey<T>((one) => [0, key(one)[1]])(a, b);
}

function since(claim: ReportClaim, answers: readonly ReportAnswer[]): string {
  const said = claim.asserted!.outcome;
  const found = SOUND.includes(said) ? "faulty" : said === "faulty" ? "in order" : "there";
  return {
    held: said === "faulty" ? "Held: found faulty since." : "Held, as far as seen since.",
    did_not_hold: `Did not hold: found ${found} since.`,
    never_tested: "Never tested: a claim, not a finding.",
    nothing_claimed: "Not known to them: nothing was claimed.",
  }[claimOutcome(claim, answers)];
}

function repairDays({ back, promised, sent }: ReportRepair): string {
  if (back) return `back on ${dayWords(back)}`;
  if (promised) return `promised for ${dayWords(promised)}`;
  return sent ? `sent on ${dayWords(sent)}, not back yet` : "day not noted";
}

function setupWords({ holder, side, speed, stop }: NonNullable<ReportFilmTest["setup"]>): string {
  return [holder ? `holder ${holder}` : "", side ? `side ${side.toUpperCase()}` : "", speed?.text ?? "", stop ?? ""].filter((words) => words !== "").join(", ");
}
