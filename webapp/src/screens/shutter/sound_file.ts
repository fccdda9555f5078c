// Reads a sound file a person chose, never more of it than can be measured; what cannot be read gets one sentence.
import { decodeSound, soundLength } from "../../device/microphone.ts";
import { BadSound, LONGEST_MIN, parseWav, type Sound } from "../../domain/wav.ts";

const LARGEST_BYTES = 40_000_000;
const LONG = `This recording is longer than ${LONGEST_MIN} minutes: cut it to the firings of one speed.`;
const NO_SOUND = "This file is not sound that this phone can read. Load a WAV, or what the phone's own recorder makes.";

/** What it needs of the phone; a test gives its own. */
export interface Ear {
  soundLength: (file: Blob) => Promise<number>;
  decodeSound: (bytes: ArrayBuffer) => Promise<Sound>;
}

/** Throws BadSound. Size and length are asked before anything is read or unpacked: an hour of it would fill the phone. */
export async function readSoundFile(file: Blob, ear: Ear = { soundLength, decodeSound }): Promise<Sound> {
  if (file.size === 0) throw new BadSound("This file is empty: record again, or choose another file.");
  if (file.size > LARGEST_BYTES) throw new BadSound("This file is over 40 MB: cut it to the firings of one speed and load that.");
  const name = new TextDecoder("latin1").decode(await file.slice(0, 4).arrayBuffer());
  if (name === "RIFF") return parseWav(await file.arrayBuffer());
  const seconds = await ear.soundLength(file).catch(() => { throw new BadSound(NO_SOUND); });
  // A recorder that streams may not know the length; its files are then held to what the size allows.
  if (Number.isFinite(seconds) ? seconds > LONGEST_MIN * 60 : file.size > LARGEST_BYTES / 10) throw new BadSound(LONG);
  return ear.decodeSound(await file.arrayBuffer()).catch(() => { throw new BadSound(NO_SOUND); });
}
