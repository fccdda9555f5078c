// Large keys for figures under the thumb; a caliper or keyboard that types goes into the same field.
import { Button } from "../../ui/button.tsx";

const KEYS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0"];

export function NumberPad({ onKey, onBack, onEnter, enterWord }: { onKey: (key: string) => void; onBack: () => void; onEnter: () => void; enterWord: string }) {
  return (
    <div class="pad" role="group" aria-label="Keys for figures">
      {KEYS.map((key) => <button type="button" key={key} class="pad-key" onClick={() => onKey(key)}>{key}</button>)}
      <button type="button" class="pad-key" aria-label="Take the last sign away" onClick={onBack}>⌫</button>
      <div class="pad-enter"><Button wide kind="strong" onClick={onEnter}>{enterWord}</Button></div>
    </div>
  );
}
