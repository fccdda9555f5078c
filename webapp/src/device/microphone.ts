// The phone's microphone as plain samples: voice processing off, one stream for a whole run, granted settings kept.
import workletUrl from "../workers/capture.worklet.ts?worker&url";

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

/** Nobody waits longer than this for a shutter; also bounds the memory a take can use. */
export const LONGEST_S = 60;
/** Buffers may come late by this much without any being lost. */
const LATE_S = 0.15;

export class Microphone {
  #chunks: Float32Array[] = [];
  #frames = 0;
  #startedAt: number | null = null;
  /** Called about 50 times a second with the peak of the last moment, 0..1. */
  onLevel: (peak: number) => void = () => undefined;
  /** Called when the phone takes the microphone away, as for a call. */
  onEnded: () => void = () => undefined;

  private constructor(readonly context: AudioContext, readonly stream: MediaStream, node: AudioWorkletNode) {
    node.port.addEventListener("message", ({ data }: MessageEvent<Float32Array>) => this.#take(data));
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
      const context = new AudioContext();
      await context.audioWorklet.addModule(workletUrl);
      if (context.state === "suspended") await context.resume();
      const node = new AudioWorkletNode(context, "capture", { numberOfInputs: 1, numberOfOutputs: 0, channelCount: 1, channelCountMode: "explicit" });
      context.createMediaStreamSource(stream).connect(node);
      return new Microphone(context, stream, node);
    } catch (error) {
      for (const track of stream.getTracks()) track.stop();
      throw new MicrophoneError("busy", { cause: error });
    }
  }

  start(): void {
    this.#chunks = [];
    this.#frames = 0;
    this.#startedAt = this.context.currentTime;
  }

  stop(): Captured {
    const rateHz = this.context.sampleRate;
    const wanted = (this.context.currentTime - (this.#startedAt ?? this.context.currentTime)) * rateHz;
    this.#startedAt = null;
    const samples = new Float32Array(this.#frames);
    let at = 0;
    for (const chunk of this.#chunks) { samples.set(chunk, at); at += chunk.length; }
    this.#chunks = [];
    const settings = this.stream.getAudioTracks()[0]?.getSettings?.() ?? {};
    const voice = [settings.echoCancellation, settings.noiseSuppression, settings.autoGainControl];
    const missing = Math.round(wanted - samples.length);
    return {
      samples, rateHz,
      lostFrames: missing > LATE_S * rateHz ? missing : 0,
      processed: voice.some((one) => one !== undefined && one !== false),
      settings: Object.fromEntries(Object.entries(settings).filter(([, value]) => ["string", "number", "boolean"].includes(typeof value) )
        // Ids of this phone's hardware are nobody's business.
        .filter(([name]) => !/id$/i.test(name))) as Captured["settings"],
    };
  }

  /** Seconds recorded so far. */
  get recordedS(): number { return this.#frames / this.context.sampleRate; }

  close(): void {
    for (const track of this.stream.getTracks()) track.stop();
    void this.context.close();
  }

  #take(chunk: Float32Array): void {
    let peak = 0;
    for (const sample of chunk) peak = Math.max(peak, Math.abs(sample));
    this.onLevel(peak);
    if (this.#startedAt === null || this.recordedS >= LONGEST_S) return;
    this.#chunks.push(chunk);
    this.#frames += chunk.length;
  }
}

/** Decodes a sound file of any kind this browser knows; mono, at the rate the browser chose. Rejects on other files. */
export async function decodeSound(bytes: ArrayBuffer): Promise<{ samples: Float32Array; rateHz: number }> {
  const context = new OfflineAudioContext(1, 1, 48_000);
  const decoded = await context.decodeAudioData(bytes);
  const samples = new Float32Array(decoded.length);
  for (let channel = 0; channel < decoded.numberOfChannels; channel += 1) {
    const data = decoded.getChannelData(channel);
    for (let i = 0; i < samples.length; i += 1) samples[i]! += data[i]! / decoded.numberOfChannels;
  }
  return { samples, rateHz: decoded.sampleRate };
}
