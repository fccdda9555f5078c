// Compares the frames a microphone gave with the clock: what arrives late for good was lost on the way.

/** Lateness that comes and goes is the phone being busy; only what stays beyond this is loss. */
const NOTICED_MS = 15;

export class FrameClock {
  #frames = 0;
  #missing = 0;
  readonly #lateMs: number[] = [];

  constructor(readonly rateHz: number) {}

  /** Notes a piece of `frames` that was complete at `atMs`; `missingFrames` of them are silence put in for what never came. */
  add(frames: number, atMs: number, missingFrames = 0): void {
    this.#frames += frames;
    this.#missing += missingFrames;
    this.#lateMs.push(atMs - (1000 * this.#frames) / this.rateHz);
  }

  /**
   * Frames lost so far, 0 if none can be told. Pieces come in bursts, which only ever makes them late; the least lateness of
   * the first and of the last third are therefore compared.
   */
  lostFrames(): number {
    const third = Math.ceil(this.#lateMs.length / 3);
    if (third === 0) return this.#missing;
    const laterMs = Math.min(...this.#lateMs.slice(-third)) - Math.min(...this.#lateMs.slice(0, third));
    return this.#missing + (laterMs > NOTICED_MS ? Math.round((laterMs * this.rateHz) / 1000) : 0);
  }
}
