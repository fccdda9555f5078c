// WAV files in and out: any PCM a recorder makes becomes mono samples; what is stored is mono 16-bit.

/** Longest recording measured as a whole, minutes; of a longer one the stretch with the firings is looked for. */
export const LONGEST_MIN = 3;
/** Longest recording gone through at all, hours: what a WAV file of a phone can hold. */
export const MOST_HOURS = 6;
/** Of a file's beginning, what its header must fit into, bytes. */
export const HEAD_BYTES = 1 << 20;
// Bounds the memory of measuring, whatever the rate: three minutes up to 55 kHz.
const MOST_FRAMES = 10_000_000;
const MOST_VALUES = 4 * MOST_FRAMES;
const LEAST_RATE_HZ = 8000;
const MOST_RATE_HZ = 384_000;
const PCM = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;

/** A file that cannot be read as sound; `message` is a sentence for the person. */
export class BadSound extends Error {}

export interface Sound {
  /** Mono, full scale -1..1. */
  readonly samples: Float32Array;
  readonly rateHz: number;
}

interface Format {
  readonly tag: number;
  readonly channels: number;
  readonly rateHz: number;
  readonly bits: number;
}

/** Where the sound lies in a WAV file and how it is stored. */
export interface WavLayout extends Format {
  /** Byte at which the sound begins. */
  readonly start: number;
  readonly frames: number;
  readonly frameBytes: number;
}

/** The layout of a WAV file by its first bytes: all of it, or HEAD_BYTES of a longer one. Throws BadSound. */
export function wavLayout(head: ArrayBuffer, fileBytes: number): WavLayout {
  if (fileBytes === 0) throw new BadSound("This file is empty: record again, or choose another file.");
  const view = new DataView(head);
  if (text(view, 0) !== "RIFF" || text(view, 8) !== "WAVE") throw new BadSound("This file is not a WAV recording: choose one that ends in .wav.");
  const { format, start, length } = findChunks(view, fileBytes);
  const frameBytes = (format.channels * format.bits) / 8;
  const frames = Math.floor(length / frameBytes);
  if (frames === 0) throw new BadSound("This recording holds no sound: record again.");
  if (frames > MOST_HOURS * 3600 * format.rateHz) throw new BadSound(`This recording is longer than ${MOST_HOURS} hours: cut it to the part with the firings.`);
  return { ...format, start, frames, frameBytes };
}

/** Whether a recording is too long to be measured as a whole. */
export function isLong({ frames, rateHz, channels }: Pick<WavLayout, "frames" | "rateHz" | "channels">): boolean {
  return frames > Math.min(LONGEST_MIN * 60 * rateHz, MOST_FRAMES) || frames * channels > MOST_VALUES;
}

/** Mono samples of a WAV file: PCM of 8, 16, 24 or 32 bits or float of 32 or 64, any channels. Throws BadSound. */
export function parseWav(bytes: ArrayBuffer): Sound {
  const layout = wavLayout(bytes, bytes.byteLength);
  if (isLong(layout)) throw new BadSound(`This recording is longer than ${LONGEST_MIN} minutes: cut it to the firings of one speed.`);
  return { samples: loudestChannel(bytes.slice(layout.start, layout.start + layout.frames * layout.frameBytes), layout), rateHz: layout.rateHz };
}

/** A mono 16-bit WAV file of the samples (full scale -1..1; beyond is cut). */
export function writeWav(samples: ArrayLike<number>, rateHz: number): ArrayBuffer {
  const bytes = new ArrayBuffer(44 + 2 * samples.length);
  const view = new DataView(bytes);
  const put = (at: number, word: string) => [...word].forEach((letter, index) => view.setUint8(at + index, letter.charCodeAt(0)));
  put(0, "RIFF");
  view.setUint32(4, 36 + 2 * samples.length, true);
  put(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, PCM, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rateHz, true);
  view.setUint32(28, 2 * rateHz, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  put(36, "data");
  view.setUint32(40, 2 * samples.length, true);
  for (let index = 0; index < samples.length; index += 1) {
    view.setInt16(44 + 2 * index, Math.min(Math.max(Math.floor(samples[index]! * 32768 + 0.5), -32768), 32767), true);
  }
  return bytes;
}

/** Walks the chunks to the format and the sound data. */
function findChunks(view: DataView, fileBytes: number): { format: Format; start: number; length: number } {
  let format: Format | null = null;
  for (let at = 12; at + 8 <= fileBytes; ) {
    if (at + 8 > view.byteLength) throw new BadSound("This WAV file carries too much besides sound: export it as a plain WAV.");
    const name = text(view, at);
    const size = view.getUint32(at + 4, true);
    const start = at + 8;
    if (name === "fmt ") format = readFormat(view, start, size);
    if (name === "data") {
      if (!format) throw new BadSound("This WAV file does not say how its sound is stored: record again, or export it anew.");
      if (start + size > fileBytes) throw new BadSound("This recording is cut short: its header promises more sound than is there. Copy it again.");
      return { format, start, length: size };
    }
    at = start + size + (size % 2);
  }
  throw new BadSound("This WAV file is cut short: it holds no sound data. Copy it again.");
}

function readFormat(view: DataView, at: number, size: number): Format {
  if (size < 16 || at + size > view.byteLength) throw new BadSound("This WAV file's header is damaged: record again, or export it anew.");
  const said = view.getUint16(at, true);
  const tag = said === EXTENSIBLE && size >= 26 ? view.getUint16(at + 24, true) : said;
  const [channels, rateHz, align, bits] = [view.getUint16(at + 2, true), view.getUint32(at + 4, true), view.getUint16(at + 12, true), view.getUint16(at + 14, true)];
  const known = (tag === PCM && [8, 16, 24, 32].includes(bits)) || (tag === FLOAT && [32, 64].includes(bits));
  if (!known) throw new BadSound("This WAV file is packed in a way not read here: export it as 16-bit PCM.");
  if (channels === 0 || align !== (channels * bits) / 8) throw new BadSound("This WAV file's header contradicts itself: record again, or export it anew.");
  if (rateHz < LEAST_RATE_HZ || rateHz > MOST_RATE_HZ) {
    throw new BadSound(`This recording says ${rateHz} samples a second; from ${LEAST_RATE_HZ} to ${MOST_RATE_HZ} can be measured.`);
  }
  return { tag, channels, rateHz, bits };
}

/** Samples of the loudest channel of a piece of sound data. Throws BadSound on values that are no numbers. */
export function loudestChannel(piece: ArrayBuffer, layout: WavLayout): Float32Array {
  // One channel, never a mix: two microphones hear a click at different moments, and a mix would hear it twice.
  let loudest: Float32Array | null = null;
  let most = -1;
  for (let channel = 0; channel < layout.channels; channel += 1) {
    const samples = readChannel(piece, layout, channel);
    let energy = 0;
    for (const sample of samples) energy += sample ** 2;
    if (!Number.isFinite(energy)) throw new BadSound("This recording holds values that are no sound: record again, or export it anew.");
    if (energy > most) [most, loudest] = [energy, samples];
  }
  return loudest!;
}

/** Samples of one channel of a piece of sound data, full scale -1..1; bytes beyond the last whole frame are left out. */
export function readChannel(piece: ArrayBuffer, { tag, bits, frameBytes }: WavLayout, channel: number): Float32Array {
  const view = new DataView(piece);
  const samples = new Float32Array(Math.floor(piece.byteLength / frameBytes));
  let at = (channel * bits) / 8;
  for (let frame = 0; frame < samples.length; frame += 1, at += frameBytes) {
    if (tag === FLOAT) samples[frame] = bits === 64 ? view.getFloat64(at, true) : view.getFloat32(at, true);
    else if (bits === 8) samples[frame] = (view.getUint8(at) - 128) / 128;
    else if (bits === 16) samples[frame] = view.getInt16(at, true) / 32768;
    else if (bits === 24) samples[frame] = (view.getInt16(at + 1, true) * 256 + view.getUint8(at)) / 8_388_608;
    else samples[frame] = view.getInt32(at, true) / 2_147_483_648;
  }
  return samples;
}

function text(view: DataView, at: number): string {
  if (at + 4 > view.byteLength) return "";
  return String.fromCharCode(view.getUint8(at), view.getUint8(at + 1), view.getUint8(at + 2), view.getUint8(at + 3));
}
