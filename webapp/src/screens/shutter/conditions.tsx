// What stood around a take: stop, way up, temperature, all of which may stay unknown; and how many firings a speed are asked for.
import { PickField, TextField } from "../../ui/field.tsx";

export interface ConditionWords { stop: string; attitude: string; celsius: string }

export const NO_CONDITIONS: ConditionWords = { stop: "", attitude: "", celsius: "" };

const WAYS = [
  { value: "", label: "Not known" }, { value: "level", label: "Level" }, { value: "up", label: "Pointing up" }, { value: "down", label: "Pointing down" },
];

/** The words as the take keeps them; what cannot be read as a temperature stays unknown. */
export function conditionsOf({ stop, attitude, celsius }: ConditionWords, sinceLastS: number | null) {
  const degrees = celsius.trim() === "" ? Number.NaN : Number(celsius.replace(",", "."));
  return { stop: stop.trim() || null, attitude: attitude || null, celsius: degrees >= -40 && degrees <= 60 ? degrees : null, since_last_s: sinceLastS };
}

/** Firings a speed that are asked for unless the person chose otherwise; three show scatter. */
export const USUAL_FIRINGS = 3;
const FIRINGS = [1, 2, 3, 5];

export interface ConditionsProps { words: ConditionWords; firings: number; onChange: (words: ConditionWords) => void; onFirings: (firings: number) => void }

export function Conditions({ words, firings, onChange, onFirings }: ConditionsProps) {
  const wrong = words.celsius.trim() !== "" && conditionsOf(words, null).celsius === null ? "A temperature in °C, from −40 to 60." : null;
  return (
    <details class="fold">
      <summary>Firings a speed, stop, temperature</summary>
      <div class="inside stack">
        <PickField label="Firings a speed" value={String(firings)} options={FIRINGS.map((count) => ({ value: String(count), label: String(count) }))}
          hint="One is accepted; three show whether it is steady" onPick={(count) => onFirings(Number(count))} />
        <TextField label="Stop it is set to" placeholder="f/5.6" max={12} value={words.stop} onInput={(stop) => onChange({ ...words, stop })} hint="Goes with the next takes" />
        <PickField label="Way up" value={words.attitude} options={WAYS} onPick={(attitude) => onChange({ ...words, attitude })} />
        <TextField label="Temperature, °C" keyboard="text" max={6} value={words.celsius} wrong={wrong} onInput={(celsius) => onChange({ ...words, celsius })} />
      </div>
    </details>
  );
}
