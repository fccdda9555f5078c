// The records a report reads, as plain values by kind; a field nobody has filled in is missing.

import type { Answer, Piece, SpeedMark } from "./checks.ts";
import type { LeakReading } from "./leak_reading.ts";
import type { Moment } from "./report_words.ts";

export interface ReportPiece extends Piece {
  readonly id: string;
  readonly title?: string;
  readonly marks?: readonly { readonly place: string; readonly text: string; readonly none_marked?: boolean }[];
  readonly comes_with?: readonly { readonly item: string; readonly count: number }[];
  readonly holders?: { readonly count: number; readonly numbers?: readonly string[]; readonly registers_on?: string | null; readonly film_size?: string | null; readonly build?: string | null } | null;
  readonly speeds?: { readonly series: string; readonly marks: readonly SpeedMark[] } | null;
  readonly screen_stack?: readonly { readonly surface: string; readonly thickness_mm?: number | null }[] | null;
}

export interface ReportVisit {
  readonly id: string;
  readonly session?: string | null;
  readonly piece?: string;
  readonly occasion?: string;
  readonly tag?: string;
  readonly began?: Moment;
  readonly inspector?: string;
  readonly sample?: { readonly looked: number; readonly of: number; readonly how?: string } | null;
  readonly temperature?: { readonly celsius: number | null } | null;
}

export interface ReportSession {
  readonly id: string;
  readonly day?: string;
  readonly venue_kind?: string;
  readonly remote?: boolean;
}

export interface ReportAnswer extends Answer {
  readonly visit?: string;
  readonly remark?: string;
  /** The day of an earlier visit that took this look; given by `lastSeen`, never stored. */
  readonly seen_on?: string;
}

export interface ReportReading {
  readonly visit?: string;
  readonly check?: string;
  readonly place?: string;
  readonly reading?: string;
  readonly typed?: { readonly text: string; readonly unit: string };
  readonly instrument?: { readonly kind: string; readonly resolution_mm?: number | null };
}

export interface ReportPhoto {
  readonly id: string;
  readonly visit?: string;
  readonly check?: string | null;
  readonly place?: string;
  readonly file?: { readonly hash: string; readonly width: number; readonly height: number };
  readonly taken?: Moment;
  readonly origin?: string;
  readonly caption?: string;
  readonly left_out?: boolean;
}

export interface ReportSpot {
  readonly id: string;
  readonly photo?: string;
  readonly at?: { readonly x: number; readonly y: number };
  readonly label?: string;
}

export interface ReportLeaks extends Partial<LeakReading> {
  readonly id: string;
  readonly photo?: string;
  readonly second?: { readonly photo: string; readonly how: string } | null;
}

export interface ReportRecording {
  readonly id: string;
  readonly visit?: string;
  readonly file?: { readonly hash: string };
  readonly made?: Moment;
  readonly origin?: string;
  readonly capture?: { readonly processed?: boolean } | null;
}

export interface ReportTake {
  readonly id: string;
  readonly visit?: string;
  readonly recording?: string;
  readonly intent?: { readonly marked: SpeedMark; readonly cold: boolean; readonly ordinal?: number };
  readonly conditions?: { readonly stop?: string | null; readonly attitude?: string | null; readonly celsius?: number | null };
  readonly at?: Moment;
}

export interface ReportMark {
  readonly take?: string;
  readonly moved?: { readonly open_s: number; readonly close_s: number };
}

export interface ReportClaim {
  readonly id: string;
  readonly piece?: string;
  readonly check?: string;
  readonly place?: string;
  readonly asserted?: { readonly outcome: string };
  readonly day?: string;
  readonly by?: string;
  readonly evidence?: string;
}

export interface ReportRepair {
  readonly id: string;
  readonly piece?: string;
  readonly remedy?: string | null;
  readonly what?: string;
  readonly sent?: string | null;
  readonly promised?: string | null;
  readonly back?: string | null;
}

export interface ReportFilmTest {
  readonly id: string;
  readonly piece?: string;
  readonly day?: string;
  readonly setup?: { readonly holder?: string; readonly side?: string; readonly speed?: SpeedMark | null; readonly stop?: string | null };
  readonly found?: string;
  readonly photo?: string | null;
}

/** Plain records by kind, deleted ones left out, each kind in the order it was made. */
export interface Bundle {
  readonly session?: readonly ReportSession[];
  readonly piece?: readonly ReportPiece[];
  readonly visit?: readonly ReportVisit[];
  readonly answer?: readonly ReportAnswer[];
  readonly reading?: readonly ReportReading[];
  readonly photo?: readonly ReportPhoto[];
  readonly spot?: readonly ReportSpot[];
  readonly leak_reading?: readonly ReportLeaks[];
  readonly recording?: readonly ReportRecording[];
  readonly take?: readonly ReportTake[];
  readonly mark?: readonly ReportMark[];
  readonly claim?: readonly ReportClaim[];
  readonly repair?: readonly ReportRepair[];
  readonly film_test?: readonly ReportFilmTest[];
}

/** What a report tells of one piece; `seen` holds the answers of all the piece's visits. */
export type OwnRecords = Required<Omit<Bundle, "session" | "piece" | "visit">> & { readonly seen: readonly ReportAnswer[] };
