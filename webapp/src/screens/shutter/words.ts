// Plain words for times, errors and what to do next at the recorder.
import timing from "@catalogue/shutter_timing.json";
import type { Band } from "../../domain/exposure.ts";
import { STOP_MATTERS_BELOW_S } from "../../domain/report_shutter.ts";
import { stopsWords as signed } from "../../domain/report_words.ts";
import type { BesideMeasurement } from "../../domain/shutter_beside.ts";
import type { Row } from "../../domain/shutter_table.ts";
import type { MicrophoneTrouble } from "../../device/microphone.ts";
import type { Tone } from "../../ui/mark.tsx";

/** A time as people say it: "1.84 s", "21.3 ms". Three figures are all the method can stand behind. */
export function timeWords(seconds: number): string {
  return seconds >= 0.3 ? `${Number(seconds.toPrecision(3))} s` : `${Number((1000 * seconds).toPrecision(3))} ms`;
}

/** A moment of a long recording as players show it: "3:07", "1:02:00". */
export function clockWords(seconds: number): string {
  const whole = Math.floor(seconds);
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60].map((one) => String(one).padStart(2, "0"));
  return (hours === "00" ? `${minutes}:${rest}` : `${hours}:${minutes}:${rest}`).replace(/^0/, "");
}

/** "0.3 stop slow", "0.1 stop fast", "on the mark". */
export function stopsWords(stops: number): string {
  const size = Math.abs(stops);
  if (size < 0.05) return "on the mark";
  const words = size.toFixed(1);
  return `${words} ${words === "1.0" || size < 1 ? "stop" : "stops"} ${stops > 0 ? "slow" : "fast"}`;
}

/** "21.3 ms (20.9 ms to 21.8 ms)". */
export function spanWords(middleS: number, lowS: number, highS: number): string {
  return `${timeWords(middleS)} (${timeWords(lowS)} to ${timeWords(highS)})`;
}

/** The error with its interval in stops, and whether the method alone could have made it. */
export function errorWords({ error_stops: error, error_low: low, error_high: high, nominal_s }: Pick<Row, "error_stops" | "error_low" | "error_high" | "nominal_s">): string {
  if (error === null || low === null || high === null) return "";
  const method = low <= 0 && high >= 0 && Math.abs(error) >= 0.05 ? "; it could be the method's own error" : "";
  return `${stopsWords(error).replace(/^on/, "On")} (${signed(low)} to ${signed(high)}) against ${timeWords(nominal_s)} exact${method}.`;
}

/** Drift as a service to come: how the cold firing stands against the settled ones. */
export function driftWords(stops: number): string {
  if (Math.abs(stops) < 0.05) return "no drift";
  const size = Math.abs(stops).toFixed(1);
  return `${size} ${size === "1.0" || Math.abs(stops) < 1 ? "stop" : "stops"} ${stops > 0 ? "slower" : "faster"} than settled`;
}

/** Which interval a figure is and at which stop it holds; `stops` are those the lens was set to. "" where no stop matters. */
export function holdsWords(nominalS: number, stops: readonly string[]): string {
  if (nominalS >= STOP_MATTERS_BELOW_S) return "";
  return `Holds about one stop down; wide open film gets less, stopped down more. ${stops.length > 0 ? `Taken at ${stops.join(", ")}.` : "Stop not noted."}`;
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

/** What the sound says by itself, so that a person sees when the mark did the choosing. */
export function unmarkedWords({ unmarked }: Pick<BesideMeasurement, "unmarked">): string {
  if (unmarked.open_time_s === null) return "Without the mark nothing could be read.";
  const several = unmarked.firings > 1 ? ` in ${unmarked.firings} firings` : "";
  return `Without the mark it reads ${timeWords(unmarked.open_time_s)}${several}, ${unmarked.verdict}.`;
}

/** What the machine reads, beside the marks a person set. */
export function besideWords(machine: { verdict: string; open_time_s: number | null; low_s: number | null; high_s: number | null } | undefined): string {
  if (machine?.open_time_s == null || machine.low_s === null || machine.high_s === null) return "By itself the machine could read no time.";
  return `The machine reads ${spanWords(machine.open_time_s, machine.low_s, machine.high_s)}, ${machine.verdict}; its marks stand thin beside yours.`;
}

/** How many firings of those asked for are in; a single one is always accepted, and that is said. */
export function takesWords(settled: number, wanted: number): string {
  if (settled >= wanted) return `${settled === 1 ? "One take is" : `${settled} takes are`} in; more are welcome.`;
  return `Take ${settled + 1} of ${wanted}.${wanted > 1 ? " One is accepted." : ""}`;
}

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
