// Reads a sound file a person chose, never more of it than can be measured; what cannot be read gets one sentence.
import { decodeSound, soundLength } from "../../device/microphone.ts";
import type { Stretch } from "../../domain/shutter_stretch.ts";
import { BadSound, isLong, LONGEST_MIN, parseWav, type Sound } from "../../domain/wav.ts";
import { layoutOf } from "../../workers/timing_long.ts";
import { findInFile } from "./measure.ts";

/** Of packed sound, which has to be unpacked whole. */
const LARGEST_BYTES = 40_000_000;
const LONG = `This recording is longer than ${LONGEST_MIN} minutes, and packed sound has to be unpacked whole: cut it to the firings of one speed, or save it as WAV.`;
const NO_SOUND = "This file is not sound that this phone can read. Load a WAV, or what the phone's own recorder makes.";
const GONE = "The phone could not read this file to its end. Copy it onto the phone and load it again.";

/** `stretch`: which part of a long recording it is. */
export type SoundOfFile = Sound & { readonly stretch?: Stretch };

/** What it needs of the phone; a test gives its own. */
export interface Ear {
  soundLength: (file: Blob) => Promise<number>;
  decodeSound: (bytes: ArrayBuffer) => Promise<Sound>;
  findInFile: (file: Blob, markedS: number | null, hear: (share: number) => void) => Promise<SoundOfFile>;
}

/**
 * The sound of a file, or of a long WAV the stretch with the firings. Throws BadSound, and Stopped where the person stopped it.
 *
 * Size and length are asked before anything is read or unpacked: an hour of it would fill the phone. `hear` is told the share
 * of a long file gone through, 0..1.
 */
export async function readSoundFile(file: Blob, markedS: number | null, hear: (share: number) => void = () => undefined, ear: Ear = { soundLength, decodeSound, findInFile }): Promise<SoundOfFile> {
  if (file.size === 0) throw new BadSound("This file is empty: record again, or choose another file.");
  const name = new TextDecoder("latin1").decode(await file.slice(0, 4).arrayBuffer());
  if (name === "RIFF") return readWav(file, markedS, hear, ear);
  if (file.size > LARGEST_BYTES) throw new BadSound(LONG);
  const seconds = await ear.soundLength(file).catch(() => { throw new BadSound(NO_SOUND); });
  // A recorder that streams may not know the length; its files are then held to what the size allows.
  if (Number.isFinite(seconds) ? seconds > LONGEST_MIN * 60 : file.size > LARGEST_BYTES / 10) throw new BadSound(LONG);
  return ear.decodeSound(await file.arrayBuffer()).catch(() => { throw new BadSound(NO_SOUND); });
}

async function readWav(file: Blob, markedS: number | null, hear: (share: number) => void, ear: Ear): Promise<SoundOfFile> {
  const layout = await layoutOf({ size: file.size, read: (from, to) => file.slice(from, to).arrayBuffer() });
  if (isLong(layout)) return ear.findInFile(file, markedS, hear);
  return parseWav(await file.arrayBuffer().catch(() => { throw new BadSound(GONE); }));
}
