// Large keys for figures under the thumb, as on a till; a caliper or keyboard that types goes into the same field.
import { Icon } from "../../ui/icon.tsx";

const KEYS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "0", "."];

export interface NumberPadProps { onKey: (key: string) => void; onBack: () => void; onEnter: () => void; onUndo: () => void; canUndo: boolean }

export function NumberPad({ onKey, onBack, onEnter, onUndo, canUndo }: NumberPadProps) {
  return (
    <div class="pad" role="group" aria-label="Keys for figures">
      {KEYS.map((key) => <button type="button" key={key} class={`pad-key${key === "0" ? " pad-nought" : ""}`} onClick={() => onKey(key)}>{key}</button>)}
      <button type="button" class="pad-key pad-back" aria-label="Take the last sign away" onClick={onBack}>⌫</button>
      <button type="button" class="pad-key pad-undo" aria-label="Undo the last figure" disabled={!canUndo} onClick={onUndo}><Icon name="undo" /></button>
      <button type="button" class="pad-key pad-enter" onClick={onEnter}>Enter</button>
    </div>
  );
}
