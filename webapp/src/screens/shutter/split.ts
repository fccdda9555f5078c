// Splits a stream of sound into firings: a stretch begins at something loud and ends once it has been quiet for long enough.
import type { CapturedPiece } from "../../device/microphone.ts";

/** Kept ahead of the first loud moment, seconds: the release click is softer than the opening. */
const BEFORE_S = 1;
/** A stretch that never falls quiet is cut here, seconds. */
const MOST_S = 20;
const LEAST_PEAK = 0.02;
/** Loud is this many times the peak of the quiet around it. */
const OVER_QUIET = 6;
const QUIET_FOLLOWS = 0.05;
/** A microphone that opens begins with nothing and then a pop: this much of what follows only shows how quiet the room is. */
const WARMS_UP_S = 0.5;

/** How long it must be quiet after a click, seconds: at slow speeds the closing click may still be to come. */
export function tailOf(markedS: number): number {
  return Math.min(5, 0.8 + 3 * markedS);
}

export class FiringSplitter {
  #pieces: CapturedPiece[] = [];
  #frames = 0;
  #quietPeak: number | null = null;
  #quietS = 0;
  #heardS = 0;
  #open = false;

  constructor(readonly rateHz: number, readonly tailS: number) {}

  /** Takes the next piece of the stream; gives the pieces of a stretch that has just ended, otherwise null. */
  add(piece: CapturedPiece): CapturedPiece[] | null {
    const peak = piece.samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
    if (peak > 0) this.#heardS += piece.samples.length / this.rateHz;
    const loud = this.#heardS > WARMS_UP_S && peak > Math.max(LEAST_PEAK, OVER_QUIET * (this.#quietPeak ?? peak));
    if (!loud && peak > 0) this.#quietPeak = this.#quietPeak === null ? peak : this.#quietPeak + QUIET_FOLLOWS * (peak - this.#quietPeak);
    this.#quietS = loud ? 0 : this.#quietS + piece.samples.length / this.rateHz;
    this.#open ||= loud;
    this.#pieces.push(piece);
    this.#frames += piece.samples.length;
    if (this.#open && (this.#quietS >= this.tailS || this.#frames > MOST_S * this.rateHz)) return this.#end();
    while (!this.#open && this.#frames > BEFORE_S * this.rateHz) this.#frames -= this.#pieces.shift()!.samples.length;
    return null;
  }

  #end(): CapturedPiece[] {
    const ended = this.#pieces;
    this.#pieces = [];
    this.#frames = 0;
    this.#open = false;
    return ended;
  }
}
