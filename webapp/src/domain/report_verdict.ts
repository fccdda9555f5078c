// The head of a piece in a report: its facts, and the verdict in words with its range and what drove it.

import type { Catalogue } from "./catalogue.ts";
import { anchor, faultWords } from "./report_findings.ts";
import type { ReportPiece, ReportVisit } from "./report_records.ts";
import { counted, distinct, GAP, listed, placesWords, some, titleOf } from "./report_words.ts";
import { fixed } from "./rounding.ts";
import type { HolderCount, Verdict } from "./verdict.ts";

type Shared = Pick<Catalogue, "checks" | "terms" | "formats" | "shutter_kinds">;

/** What is known about the piece; what nobody filled in is left out. */
export function pieceFacts(piece: ReportPiece, visit: ReportVisit, catalogue: Shared): { name: string; value: string }[] {
  const { terms } = catalogue;
  const said: [string, string][] = [
    ["Kind", titleOf(terms.piece_kinds, piece.kind)],
    ["Type", titleOf(typesOf(piece.kind, catalogue), piece.type)],
    ["Format", titleOf(catalogue.formats, piece.format, piece.format ?? "")],
    ["Shutter", titleOf(catalogue.shutter_kinds, piece.shutter_kind)],
    ["Marked speeds", (piece.speeds?.marks ?? []).map(({ text }) => text).join(", ")],
    ["Holders", piece.holders?.count ? String(piece.holders.count) : ""],
    ["Film they take", titleOf(catalogue.formats, piece.holders?.film_size)],
    ["Built of", titleOf(terms.builds, piece.holders?.build).toLowerCase()],
    ["Film lies on", titleOf(terms.registers_on, piece.holders?.registers_on).toLowerCase()],
    ["Screen, from the lens", listed((piece.screen_stack ?? []).map((one) => surface(one, catalogue)))],
    ["Temperature", typeof visit.temperature?.celsius === "number" ? `${fixed(visit.temperature.celsius, 0)}${GAP}°C`.replace("-", "−") : ""],
  ];
  return said.flatMap(([name, value]) => (value ? [{ name, value }] : []));
}

/** The derived verdict for a reader: word, meaning, range, drivers, and for holders the count one by one. */
export function verdictWords(piece: ReportPiece, sample: ReportVisit["sample"], judged: Verdict, catalogue: Shared) {
  const word = judged.verdict;
  const term = catalogue.terms.verdicts.find(({ id }) => id === word)!;
  const upTo = judged.range.up_to;
  const own = piece.parts_only?.reason ?? "";
  const drove = distinct(judged.drove.map(({ check }) => check)).map((id) => {
    const check = catalogue.checks.find((one) => one.id === id)!;
    const own = judged.drove.filter((one) => one.check === id);
    return {
      what: check.title,
      where: placesWords(own.map(({ place }) => place), catalogue),
      faults_line: faultWords(check, own.flatMap(({ faults }) => faults)).map(({ fault }) => fault).join("; ") || "fault not named",
      link: anchor(id),
    };
  });
  return {
    id: word,
    words: term.title,
    meaning: word === "parts_only" ? "No cure is known, or the sender offers it for parts." : term.hint,
    range: upTo ? `Up to ${upTo.text}; faster speeds were not judged.` : "",
    own_reason: word === "parts_only" && own ? `Offered for parts: ${own}` : "",
    drove: some(drove),
    unlooked: word === "not_proven" ? unlookedWords(judged.unlooked.length) : "",
    holders: judged.holders ? holderWords(judged.holders) : "",
    sample: sampleWords(sample),
  };
}

/** The types a kind of piece may have. */
export function typesOf(kind: string | undefined, { terms }: Pick<Catalogue, "terms">) {
  const types: Readonly<Record<string, readonly { readonly id: string; readonly title: string }[]>> = terms.piece_types;
  return types[kind ?? ""] ?? [];
}

function unlookedWords(count: number): string {
  return `${counted(count, "look", "looks")} that a picture hangs on ${count === 1 ? "was" : "were"} not taken: see Not checked.`;
}

function holderWords(count: HolderCount): string {
  const rest = count.of - count.ready - count.with_faults - count.needs_work;
  const said = [
    count.ready ? `${count.ready} ready to use` : "",
    count.with_faults ? `${count.with_faults} usable with faults` : "",
    count.needs_work ? `${count.needs_work} ${count.needs_work === 1 ? "needs" : "need"} work first` : "",
    rest ? `${rest} not proven` : "",
  ];
  return `Of ${counted(count.of, "holder", "holders")}: ${listed(said.filter((words) => words !== ""))}.`;
}

function sampleWords(sample: ReportVisit["sample"]): string {
  if (!sample) return "";
  return `A sample: ${sample.looked} of ${sample.of} looked at${sample.how ? `, ${sample.how}` : ""}. Nothing is said of the others.`;
}

function surface(one: NonNullable<ReportPiece["screen_stack"]>[number], { terms }: Shared): string {
  const thick = one.thickness_mm;
  return titleOf(terms.screen_surfaces, one.surface, one.surface).toLowerCase() + (typeof thick === "number" ? ` ${thick}${GAP}mm` : "");
}
