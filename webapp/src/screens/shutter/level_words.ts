// The word beside the level: too quiet, loud enough, too loud, clipped; what was too much stays readable for a while.

const QUIET = 0.02;
const LOUD = 0.8;
const CLIPPED = 0.97;
/** Pieces of about 20 ms for which "clipped" stays. */
const STAYS = 150;
/** Pieces after which nothing loud is worth a word. */
const LONG_QUIET = 250;
const FORGETS = 0.998;

export const NOTHING_YET = "Listening; nothing loud yet";

export class LevelWords {
  #loudest = 0;
  #heard = 0;
  #clippedAt = -Infinity;

  /** `peak` of the last piece, 0..1 of full scale. */
  hear(peak: number): string {
    this.#heard += 1;
    this.#loudest = Math.max(this.#loudest * FORGETS, peak);
    if (peak >= CLIPPED) this.#clippedAt = this.#heard;
    if (this.#heard - this.#clippedAt < STAYS) return "Clipped: farther away, then again";
    if (this.#loudest >= LOUD) return "Too loud: a little farther away";
    if (this.#loudest >= QUIET) return "Heard something loud enough";
    return this.#heard > LONG_QUIET ? "Too quiet: if you fired, come closer" : NOTHING_YET;
  }
}
