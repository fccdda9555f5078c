// Runs beside the sound card: hands every buffer of the microphone to the page, untouched.

declare const registerProcessor: (name: string, processor: new () => unknown) => void;
declare class AudioWorkletProcessor { readonly port: MessagePort; }

/** The graph works in 128 frames; posting each would flood the page, so about 20 ms go at a time. */
const FRAMES = 1024;

class Capture extends AudioWorkletProcessor {
  #buffer = new Float32Array(FRAMES);
  #filled = 0;

  process(inputs: Float32Array[][]): boolean {
    const channel = inputs[0]?.[0];
    if (!channel) return true;
    for (const sample of channel) {
      this.#buffer[this.#filled] = sample;
      this.#filled += 1;
      if (this.#filled === FRAMES) {
        this.port.postMessage(this.#buffer, [this.#buffer.buffer]);
        this.#buffer = new Float32Array(FRAMES);
        this.#filled = 0;
      }
    }
    return true;
  }
}

registerProcessor("capture", Capture);
