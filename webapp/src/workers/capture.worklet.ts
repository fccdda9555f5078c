// Runs beside the sound card: hands every buffer of the microphone to the page, untouched, with the time it was full.

/** `missing_frames` of the samples are silence put in while the microphone gave nothing. */
export interface CapturedPiece { samples: Float32Array; at_ms: number; missing_frames: number }

declare const registerProcessor: (name: string, processor: new () => unknown) => void;
declare class AudioWorkletProcessor { readonly port: MessagePort; }

/** The graph works in 128 frames; posting each would flood the page, so about 20 ms go at a time. */
const FRAMES = 1024;
const QUANTUM = 128;

class Capture extends AudioWorkletProcessor {
  #buffer = new Float32Array(FRAMES);
  #filled = 0;
  #missing = 0;

  process(inputs: Float32Array[][]): boolean {
    const heard = inputs[0]?.[0];
    const length = heard?.length ?? QUANTUM;
    if (this.#filled + length > FRAMES) this.#send();
    if (heard) this.#buffer.set(heard, this.#filled);
    else this.#missing += length;
    this.#filled += length;
    return true;
  }

  #send(): void {
    const piece: CapturedPiece = { samples: this.#buffer.subarray(0, this.#filled), at_ms: Date.now(), missing_frames: this.#missing };
    this.port.postMessage(piece, [this.#buffer.buffer]);
    this.#buffer = new Float32Array(FRAMES);
    this.#filled = 0;
    this.#missing = 0;
  }
}

registerProcessor("capture", Capture);
