// What stood around a take: stop, way up, temperature; all of it may stay unknown.
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

export function Conditions({ words, onChange }: { words: ConditionWords; onChange: (words: ConditionWords) => void }) {
  const wrong = words.celsius.trim() !== "" && conditionsOf(words, null).celsius === null ? "A temperature in °C, from −40 to 60." : null;
  return (
    <details class="fold">
      <summary>Stop, way up, temperature</summary>
      <div class="inside stack">
        <TextField label="Stop it is set to" placeholder="f/5.6" max={12} value={words.stop} onInput={(stop) => onChange({ ...words, stop })} hint="Goes with the next takes" />
        <PickField label="Way up" value={words.attitude} options={WAYS} onPick={(attitude) => onChange({ ...words, attitude })} />
        <TextField label="Temperature, °C" keyboard="text" max={6} value={words.celsius} wrong={wrong} onInput={(celsius) => onChange({ ...words, celsius })} />
      </div>
    </details>
  );
}
