// One microphone for the whole screen: a phone asks for leave once, not at every speed. Let go when the screen is left.
import { Microphone } from "../../device/microphone.ts";

let held: Microphone | null = null;

/** Opens it or gives the one that is open. Throws MicrophoneError. `onEnded`: the phone took it away. */
export async function takeMicrophone(onEnded: () => void): Promise<Microphone> {
  held ??= await Microphone.open();
  held.onEnded = () => { held = null; onEnded(); };
  return held;
}

export function letMicrophoneGo(): void {
  held?.close();
  held = null;
}
