// What was found, check by check: cards for what is worth a word, one line for all that was in order as far as seen.

import type { Catalogue, Check } from "./catalogue.ts";
import { applicable, places } from "./checks.ts";
import { gallery, type Picture } from "./report_photos.ts";
import type { ReportAnswer, ReportPiece } from "./report_records.ts";
import { distinct, placesWords, titleOf } from "./report_words.ts";
import type { Finding, Verdict } from "./verdict.ts";

type Shared = Pick<Catalogue, "checks" | "terms" | "groups">;

const SEEN = ["in_order", "worn", "faulty", "cannot_tell"];
// "None" is never said: what a lamp or the dark did not show may still be there.
const IN_ORDER = { torch: "no fault seen with the lamp used", dark: "no light seen in the dark that could be had", none: "in order as far as seen" };

const HIDDEN = "Left out by the sender: what was noted, measured and photographed here. The verdict and the faults count it all the same.";

/** The groups of the catalogue that have findings or photos, in their order; of a hidden one the faults alone, without a word or photo. */
export function groups(piece: ReportPiece, answers: readonly ReportAnswer[], pictures: readonly Picture[], hidden: readonly string[], catalogue: Shared) {
  const checks = applicable(piece, catalogue);
  return catalogue.groups
    .map((group) => [group, checks.filter((check) => check.group === group.id)] as const)
    .filter(([, own]) => own.length > 0)
    .map(([group, own]) => hidden.includes(group.id)
      ? { ...groupOf(group.title, own, piece, faultsAlone(answers), [], catalogue), hidden: HIDDEN }
      : groupOf(group.title, own, piece, answers, pictures, catalogue))
    .filter((one) => one.cards.length > 0 || one.fine || one.hidden);
}

/** The faults by what they do to a picture, the gravest first; one entry a check. */
export function wrong(judged: Pick<Verdict, "faults">, catalogue: Shared) {
  return (["stops", "limits", "looks"] as const).flatMap((effect) => {
    const findings = judged.faults[effect];
    const items = distinct(findings.map(({ check }) => check)).map((check) => wrongItem(check, findings.filter((one) => one.check === check), catalogue));
    const term = catalogue.terms.effects.find(({ id }) => id === effect)!;
    return items.length > 0 ? [{ effect, effect_title: term.title, effect_hint: term.hint, items }] : [];
  });
}

/** The name by which a finding can be reached within a piece. */
export function anchor(check: string): string {
  return check.replaceAll(".", "-").replaceAll("_", "-");
}

/** The named faults with what each does, in the order of the catalogue. */
export function faultWords(check: Pick<Check, "faults">, ids: readonly string[]): { fault: string; does: string }[] {
  return check.faults.filter(({ id }) => ids.includes(id)).map((fault) => ({ fault: fault.title, does: fault.effect_words }));
}

function wrongItem(id: string, findings: readonly Finding[], catalogue: Shared) {
  const check = catalogue.checks.find((one) => one.id === id)!;
  const named = faultWords(check, findings.flatMap(({ faults }) => faults));
  return {
    check_title: check.title,
    link: anchor(id),
    where: placesWords(findings.map(({ place }) => place), catalogue),
    faults: named.length > 0 ? named : [{ fault: "Fault not named", does: "" }],
  };
}

function groupOf(title: string, checks: readonly Check[], piece: ReportPiece, answers: readonly ReportAnswer[], pictures: readonly Picture[], catalogue: Shared) {
  const looked = checks.map((check) => ({ check, entries: entriesOf(check, piece, answers, catalogue), own: pictures.filter((picture) => picture.check === check.id) }));
  const telling = looked.filter(({ entries, own }) => own.length > 0 || entries.some(({ plain }) => !plain));
  const fine = looked
    .filter((one) => !telling.includes(one))
    .flatMap(({ check, entries }) => entries.map((entry) => ({ fine_title: check.title, where: entry.where, words: fineWords(entry) })));
  const said = distinct(fine.map(({ words }) => words)).map((words) => ({ fine_words: words, list: fine.filter((one) => one.words === words) }));
  return {
    group_title: title,
    cards: telling.map(({ check, entries, own }) => ({ card_title: check.title, anchor: anchor(check.id), entries, pictures: gallery(own) })),
    fine: said.length > 0 ? { said } : null,
    hidden: "",
  };
}

function faultsAlone(answers: readonly ReportAnswer[]): ReportAnswer[] {
  return answers.flatMap((answer) => (answer.result?.outcome === "faulty" ? [{ ...answer, remark: "", result: { ...answer.result, reason_text: "" } }] : []));
}

function fineWords({ outcome_words: words, seen_on: day }: { outcome_words: string; seen_on: string }): string {
  return day ? `${words} (looked at on ${day})` : words;
}

/** Equal answers at several places are one entry. */
function entriesOf(check: Check, piece: ReportPiece, answers: readonly ReportAnswer[], catalogue: Shared) {
  const everywhere = places(check, piece);
  const merged = new Map<string, ReportAnswer[]>();
  for (const answer of answers) {
    const { result } = answer;
    if (answer.check !== check.id || !result || !SEEN.includes(result.outcome)) continue;
    const key = JSON.stringify([result.outcome, result.faults ?? [], result.good_up_to?.text ?? "", result.reason_text ?? "", answer.remark ?? "", answer.seen_on ?? ""]);
    merged.set(key, [...(merged.get(key) ?? []), answer]);
  }
  return [...merged.values()].map((own) => entryOf(check, own[0]!, placesWords(own.map(({ place }) => place ?? "").sort(inOrderOf(everywhere)), catalogue, everywhere), catalogue));
}

function entryOf(check: Check, { result, remark = "", seen_on: seenOn = "" }: ReportAnswer, where: string, catalogue: Shared) {
  const { outcome, faults = [], good_up_to: upTo, reason_text: why = "" } = result!;
  const words = outcomeWords(check, outcome, upTo?.text ?? "", catalogue);
  return {
    outcome,
    outcome_words: words[0]!.toUpperCase() + words.slice(1),
    where,
    faults: outcome === "faulty" ? faultWords(check, faults) : [],
    remark,
    why,
    seen_on: seenOn,
    plain: outcome === "in_order" && remark === "",
  };
}

function outcomeWords(check: Check, outcome: string, upTo: string, catalogue: Shared): string {
  if (outcome === "in_order") return IN_ORDER[check.lit ?? "none"];
  if (outcome !== "cannot_tell") return titleOf(catalogue.terms.outcomes, outcome);
  return upTo ? `good up to ${upTo}; beyond that not judged` : "looked at, could not be judged this way";
}

/** As the places of a check are listed (speeds from slow to fast, a bellows from short to full); others after them. */
function inOrderOf(everywhere: readonly string[]): (a: string, b: string) => number {
  const at = (place: string) => (everywhere.includes(place) ? everywhere.indexOf(place) : everywhere.length);
  return (a, b) => at(a) - at(b) || naturally(a, b);
}

/** Holder 2 comes before holder 10. */
function naturally(a: string, b: string): number {
  const [left, right] = [a.replaceAll("=", ";").split(";"), b.replaceAll("=", ";").split(";")];
  for (let at = 0; at < Math.min(left.length, right.length); at += 1) {
    const [one, other] = [left[at]!, right[at]!];
    const [n, m] = [/^\d+$/.test(one) ? Number(one) : -1, /^\d+$/.test(other) ? Number(other) : -1];
    if (n !== m) return n - m;
    if (n === -1 && one !== other) return one < other ? -1 : 1;
  }
  return left.length - right.length;
}
