// The phone's microphone as plain samples: voice processing off, one stream for a whole run, granted settings kept.
import workletUrl from "../workers/capture.worklet.ts?worker&url";
import type { CapturedPiece } from "../workers/capture.worklet.ts";
import { FrameClock } from "./frame_clock.ts";

export type { CapturedPiece };

export interface Captured {
  /** Mono, full scale -1..1, at `rateHz`. */
  samples: Float32Array;
  rateHz: number;
  /** Frames that the clock says should have come and did not; a gap may stand inside the recording. */
  lostFrames: number;
  /** Whether the phone kept some voice processing on, or does not say. */
  processed: boolean;
  settings: Record<string, string | number | boolean>;
}

export type MicrophoneTrouble = "insecure" | "missing" | "refused" | "busy";

export class MicrophoneError extends Error {
  constructor(readonly trouble: MicrophoneTrouble, options?: ErrorOptions) {
    super(`microphone: ${trouble}`, options);
    this.name = "MicrophoneError";
  }
}

/** A forgotten recorder keeps its last minute: whoever fires then still has the firing. */
export const LONGEST_S = 60;

export class Microphone {
  #pieces: CapturedPiece[] | null = null;
  #frames = 0;
  /** Called about 50 times a second with the peak of the last moment, 0..1. */
  onLevel: (peak: number) => void = () => undefined;
  /** Called with every piece of sound, about 20 ms each; whoever wants a whole run collects them. */
  onPiece: (piece: CapturedPiece) => void = () => undefined;
  /** Called when the phone takes the microphone away, as for a call. */
  onEnded: () => void = () => undefined;

  private constructor(readonly context: AudioContext, readonly stream: MediaStream, node: AudioWorkletNode) {
    node.port.addEventListener("message", ({ data }: MessageEvent<CapturedPiece>) => this.#take(data));
    node.port.start();
    this.stream.getAudioTracks()[0]?.addEventListener("ended", () => this.onEnded());
  }

  /** Asks for the microphone and opens it. Throws MicrophoneError. */
  static async open(): Promise<Microphone> {
    if (!isSecureContext) throw new MicrophoneError("insecure");
    if (!navigator.mediaDevices?.getUserMedia || typeof AudioWorkletNode === "undefined") throw new MicrophoneError("missing");
    let stream: MediaStream;
    try {
      stream = await navigator.mediaDevices.getUserMedia({
        audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 },
      });
    } catch (error) {
      const name = (error as { name?: string }).name ?? "";
      const trouble = name === "NotAllowedError" || name === "SecurityError" ? "refused" : name === "NotReadableError" ? "busy" : "missing";
      throw new MicrophoneError(trouble, { cause: error });
    }
    try {
      // At the microphone's own rate where it says one: resampling on the way may drop or double a buffer.
      const rate = stream.getAudioTracks()[0]?.getSettings?.().sampleRate;
      const context = new AudioContext(rate ? { sampleRate: rate } : {});
      await context.audioWorklet.addModule(workletUrl);
      if (context.state === "suspended") await context.resume();
      const node = new AudioWorkletNode(context, "capture", { numberOfInputs: 1, numberOfOutputs: 0, channelCountMode: "max" });
      context.createMediaStreamSource(stream).connect(node);
      return new Microphone(context, stream, node);
    } catch (error) {
      for (const track of stream.getTracks()) track.stop();
      throw new MicrophoneError("busy", { cause: error });
    }
  }

  start(): void {
    this.#pieces = [];
    this.#frames = 0;
  }

  /** What was heard since `start`. */
  stop(): Captured {
    const pieces = this.#pieces ?? [];
    this.#pieces = null;
    return this.captured(pieces);
  }

  /** Pieces that followed one another as one recording, with what the phone did to it. */
  captured(pieces: readonly CapturedPiece[]): Captured {
    const rateHz = this.context.sampleRate;
    const clock = new FrameClock(rateHz);
    const samples = new Float32Array(pieces.reduce((sum, piece) => sum + piece.samples.length, 0));
    let at = 0;
    for (const piece of pieces) {
      samples.set(piece.samples, at);
      at += piece.samples.length;
      clock.add(piece.samples.length, piece.at_ms, piece.missing_frames);
    }
    const settings = this.stream.getAudioTracks()[0]?.getSettings?.() ?? {};
    const voice = [settings.echoCancellation, settings.noiseSuppression, settings.autoGainControl];
    return {
      samples, rateHz,
      lostFrames: clock.lostFrames(),
      processed: voice.some((one) => one !== undefined && one !== false),
      settings: Object.fromEntries(Object.entries(settings).filter(([, value]) => ["string", "number", "boolean"].includes(typeof value))
        // Ids of this phone's hardware are nobody's business.
        .filter(([name]) => !/id$/i.test(name))) as Captured["settings"],
    };
  }

  close(): void {
    for (const track of this.stream.getTracks()) track.stop();
    void this.context.close();
  }

  #take(piece: CapturedPiece): void {
    let peak = 0;
    for (const sample of piece.samples) peak = Math.max(peak, Math.abs(sample));
    this.onLevel(peak);
    this.onPiece(piece);
    if (!this.#pieces) return;
    this.#pieces.push(piece);
    this.#frames += piece.samples.length;
    while (this.#frames > LONGEST_S * this.context.sampleRate) this.#frames -= this.#pieces.shift()!.samples.length;
  }
}

/** Seconds a sound file says it lasts, from its first bytes; rejects on what is no sound. */
export function soundLength(file: Blob): Promise<number> {
  const player = new Audio();
  const address = URL.createObjectURL(file);
  return new Promise<number>((done, fail) => {
    player.preload = "metadata";
    player.addEventListener("loadedmetadata", () => done(player.duration));
    player.addEventListener("error", () => fail(new Error("no sound")));
    player.src = address;
  }).finally(() => { player.removeAttribute("src"); URL.revokeObjectURL(address); });
}

/** Decodes a sound file of any kind this browser knows; mono, at the rate the browser chose. Rejects on other files. */
export async function decodeSound(bytes: ArrayBuffer): Promise<{ samples: Float32Array; rateHz: number }> {
  const context = new OfflineAudioContext(1, 1, 48_000);
  const decoded = await context.decodeAudioData(bytes);
  const channels = Array.from({ length: decoded.numberOfChannels }, (_, index) => decoded.getChannelData(index));
  const energy = (samples: Float32Array) => samples.reduce((sum, sample) => sum + sample * sample, 0);
  // One channel, never a mix: two microphones hear a click at different moments, and a mix would hear it twice.
  const samples = channels.reduce((loudest, one) => (energy(one) > energy(loudest) ? one : loudest));
  return { samples, rateHz: decoded.sampleRate };
}
