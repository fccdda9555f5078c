// Plain words for times, errors and what to do next at the recorder.
import timing from "@catalogue/shutter_timing.json";
import type { Band } from "../../domain/exposure.ts";
import type { MicrophoneTrouble } from "../../device/microphone.ts";
import type { Tone } from "../../ui/mark.tsx";

/** A time as people say it: "1.84 s", "21.3 ms". Three figures are all the method can stand behind. */
export function timeWords(seconds: number): string {
  return seconds >= 0.3 ? `${Number(seconds.toPrecision(3))} s` : `${Number((1000 * seconds).toPrecision(3))} ms`;
}

/** "0.3 stop slow", "0.1 stop fast", "on the mark". */
export function stopsWords(stops: number): string {
  const size = Math.abs(stops);
  if (size < 0.05) return "on the mark";
  const words = size.toFixed(1);
  return `${words} ${words === "1.0" || size < 1 ? "stop" : "stops"} ${stops > 0 ? "slow" : "fast"}`;
}

export const BANDS: Record<Band, { word: string; tone: Tone }> = {
  fine: { word: "Fine for film", tone: "good" },
  usable: { word: "Usable: write the true speed down", tone: "worn" },
  needs_service: { word: "Needs service", tone: "bad" },
  erratic: { word: "Erratic", tone: "bad" },
  indication_only: { word: "Indication only", tone: "unsure" },
  not_judged: { word: "Not judged", tone: "none" },
};

export const QUALITY: Record<string, { word: string; tone: Tone }> = {
  clear: { word: "Clear", tone: "good" },
  doubtful: { word: "Doubtful", tone: "unsure" },
  unusable: { word: "Cannot be judged", tone: "none" },
};

/** What to do after a take that is not clear. */
export function nextWords(reason: string | null): string {
  return (reason && (timing.reasons as Record<string, string>)[reason]) || "Come closer, keep still, and fire again.";
}

export const TROUBLE: Record<MicrophoneTrouble, { what: string; todo: string }> = {
  insecure: { what: "No microphone on this address.", todo: "Phones give a page the microphone only over HTTPS. Open Barnlight by its https address, or load a recording made with the phone's own recorder." },
  missing: { what: "No microphone was found.", todo: "Plug one in, or load a recording made with another app." },
  refused: { what: "The microphone was refused.", todo: "Allow it for this page in the browser's settings, or load a recording made with another app." },
  busy: { what: "Something else holds the microphone.", todo: "End the call or close the other app, then try again. A recording made with another app can be loaded as well." },
};
