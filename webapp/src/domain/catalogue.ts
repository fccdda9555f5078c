// The catalogue's shape, and the whole of it read once: every data file is a chunk of its own, fetched when first asked for.

import type { Series } from "./exposure.ts";
import type { LeakConstants } from "./leak_maps.ts";
import type { TimingConstants } from "./shutter_signal.ts";

/** What a fault does to a picture; "none" makes no difference. */
export type Effect = "stops" | "limits" | "looks" | "none";
export type Axis = "holder" | "side" | "point" | "speed" | "extension" | "corner";

export interface Fault {
  readonly id: string;
  readonly title: string;
  readonly picture: Effect;
  readonly price: "high" | "medium" | "low" | "none";
  /** Id of the remedy; null when none is known. */
  readonly remedy: string | null;
  readonly effect_words: string;
}

export interface ReadingKind {
  readonly id: string;
  readonly title: string;
  readonly quantity: string;
  readonly unit: string;
  /** In the reading's own unit; outside it a figure is questioned, not refused. */
  readonly plausible: { readonly low: number; readonly high: number } | null;
  readonly axes: readonly Axis[];
  readonly standard: string | null;
}

export interface Check {
  readonly id: string;
  readonly kinds: readonly string[];
  /** Types of piece it is for; null is all of the kind. */
  readonly types: readonly string[] | null;
  /** Kinds of shutter it is for; without it, all. */
  readonly shutter_kinds?: readonly string[];
  readonly group: string;
  readonly title: string;
  readonly do: string;
  readonly good: string;
  readonly bad: string;
  readonly means: string;
  readonly axes: readonly Axis[];
  readonly faults: readonly Fault[];
  readonly chance: "rare" | "sometimes" | "often";
  readonly cost: "low" | "medium" | "high";
  /** To look once: at one holder where it has holders, else at all its places. */
  readonly seconds: number;
  /** Place before any score, from 1. */
  readonly first: number | null;
  readonly good_up_to: boolean;
  readonly cautions: readonly string[];
  readonly readings: readonly ReadingKind[];
  readonly question: string | null;
  readonly question_rank: number | null;
  readonly recorder: boolean;
  readonly leak_photo: boolean;
  readonly lit?: "torch" | "dark";
  /** The bench tools that help with it. */
  readonly tools?: readonly ("leaks" | "holder_depth" | "focus" | "aperture" | "bellows" | "coverage" | "mounting" | "straightness")[];
  readonly source: string;
  readonly sureness: string;
}

/** In the smallest unit of the currency. */
export interface CostSpan {
  readonly currency: string;
  readonly low_minor: number;
  readonly likely_minor: number;
  readonly high_minor: number;
}

export interface Remedy {
  readonly id: string;
  readonly title: string;
  readonly who: string;
  readonly weeks: { readonly low: number; readonly high: number };
  readonly cost: CostSpan;
  /** Whether the cost is an example rather than the person's own figure. */
  readonly example: boolean;
  readonly charged_per: "piece" | "holder" | "part";
  readonly note: string;
  /** Smaller remedies that are done with this one. */
  readonly covers: readonly string[];
}

export interface Standard {
  readonly id: string;
  readonly quantity: string;
  readonly applies: { readonly format?: string; readonly registers_on?: string; readonly shutter_size?: string };
  readonly value: number;
  readonly tolerance: number | null;
  readonly unit: string;
  readonly as_printed: string;
  readonly source: string;
  readonly sureness: string;
  /** The least, where `value` is the most. */
  readonly low?: number;
}

export interface Format {
  readonly id: string;
  readonly title: string;
  readonly width_mm: number;
  readonly height_mm: number;
  readonly diagonal_mm: number;
  readonly family: string;
  readonly has_published_depth: boolean;
  /** The picture it really gets, where that is known. */
  readonly image?: { readonly width_mm: number; readonly height_mm: number; readonly source: string; readonly sureness: string };
  readonly source: string;
  readonly sureness: string;
}

/** A figure that the bench tools ask for or that a kit keeps. */
export interface Measure {
  readonly id: string;
  readonly title: string;
  readonly unit: "mm" | "number" | "term";
  readonly plausible: { readonly low: number; readonly high: number } | null;
  /** One standard uncertainty where nobody said what it was read with. */
  readonly u_mm: number | null;
  /** Whose fact it is in a kit. */
  readonly kinds: readonly string[];
  /** "check#reading" that gives it. */
  readonly reading: string | null;
  /** The same at a loose thing. */
  readonly reading_other?: string;
  /** Path of the piece's field that gives it. */
  readonly field: string | null;
  readonly hint: string | null;
  /** What it may be, where it is a term of its own. */
  readonly terms?: readonly string[];
}

export interface IrisScale {
  readonly id: string;
  readonly title: string;
  /** Whether a mark counts exposure, so that N is 4·sqrt of it. */
  readonly counts_exposure: boolean;
  readonly source: string;
  readonly sureness: string;
  readonly marks: readonly { readonly texts: readonly string[]; readonly n: number }[];
}

export interface ShutterKind {
  readonly id: string;
  readonly title: string;
  readonly how_to_work: readonly string[];
  readonly cocking_rule: string;
  readonly cautions: readonly string[];
  readonly regimes: readonly { readonly id: string; readonly title: string; readonly from_s: number; readonly to_s: number }[];
  /** Null where the shutter keeps no marked speeds. */
  readonly default_series: string | null;
  readonly has_slow_train: boolean;
  readonly expect: string;
}

/** What a distant seller is asked; `say` by language. */
export interface Question {
  readonly id: string;
  /** 1 tells most; a check names the question that answers it by its `question_rank`. */
  readonly rank: number;
  readonly title: string;
  readonly hint: string;
  readonly kinds: readonly string[];
  /** "sale": about the terms, so that no check answers it. */
  readonly about: "piece" | "sale";
  /** Unanswered, the piece is priced as not working. */
  readonly key: boolean;
  readonly fair_not_to_know: boolean;
  /** The least evidence without which a good answer has no weight. */
  readonly proof: string | null;
  readonly say: Readonly<Record<string, string>>;
}

export interface Questions {
  readonly languages: readonly { readonly id: string; readonly title: string; readonly own_name: string; readonly review: "written_here" | "not_reviewed" | "reviewed" }[];
  readonly letter: { readonly opening: Readonly<Record<string, string>>; readonly closing: Readonly<Record<string, string>> };
  readonly questions: readonly Question[];
  /** By check: what none of the questions asks, where a fault stops a picture. */
  readonly more: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

export interface Catalogue {
  readonly revision: number;
  readonly groups: readonly { readonly id: string; readonly title: string }[];
  readonly checks: readonly Check[];
  readonly remedies: readonly Remedy[];
  readonly shutter_kinds: readonly ShutterKind[];
  readonly series: readonly Series[];
  readonly standards: readonly Standard[];
  readonly formats: readonly Format[];
  readonly measures: readonly Measure[];
  readonly iris_scales: readonly IrisScale[];
  readonly cautions: readonly { readonly id: string; readonly title: string; readonly say: string }[];
  readonly terms: typeof import("@catalogue/terms.json");
  readonly records: typeof import("@catalogue/records.json");
  readonly shutter_timing: TimingConstants;
  readonly leaks: LeakConstants;
}

let asked: Promise<Catalogue> | undefined;

/** The whole catalogue, shared by all callers: read it, never change it. A failed fetch is tried again at the next call. */
export function loadCatalogue(): Promise<Catalogue> {
  asked ??= read().catch((error: unknown) => {
    asked = undefined;
    throw error;
  });
  return asked;
}

/** The questions in all their languages: many words that only an inquiry needs. */
export const loadQuestions = async (): Promise<Questions> => (await import("@catalogue/questions.json")).default as unknown as Questions;

async function read(): Promise<Catalogue> {
  const [card, groups, camera, lens, holders, bellows, other, remedies, kinds, series, standards, formats, measures, scales, cautions, terms, records, timing, leaks] = await Promise.all([
    import("@catalogue/catalogue.json"),
    import("@catalogue/groups.json"),
    import("@catalogue/checks_camera.json"),
    import("@catalogue/checks_lens.json"),
    import("@catalogue/checks_holders.json"),
    import("@catalogue/checks_bellows.json"),
    import("@catalogue/checks_other.json"),
    import("@catalogue/remedies.json"),
    import("@catalogue/shutter_kinds.json"),
    import("@catalogue/series.json"),
    import("@catalogue/standards.json"),
    import("@catalogue/formats.json"),
    import("@catalogue/measures.json"),
    import("@catalogue/iris_scales.json"),
    import("@catalogue/cautions.json"),
    import("@catalogue/terms.json"),
    import("@catalogue/records.json"),
    import("@catalogue/shutter_timing.json"),
    import("@catalogue/leaks.json"),
  ]);
  // A JSON file's own type knows words only as text; the schemas beside the files hold them to the narrower ones.
  return {
    revision: card.default.revision,
    groups: groups.default.groups,
    checks: [camera, lens, holders, bellows, other].flatMap((file) => file.default.checks as unknown as Check[]),
    remedies: remedies.default.remedies as unknown as Remedy[],
    shutter_kinds: kinds.default.shutter_kinds,
    series: series.default.series,
    standards: standards.default.standards as unknown as Standard[],
    formats: formats.default.formats,
    measures: measures.default.measures as unknown as Measure[],
    iris_scales: scales.default.iris_scales,
    cautions: cautions.default.cautions,
    terms: terms.default,
    records: records.default,
    shutter_timing: timing.default,
    leaks: leaks.default,
  };
}
