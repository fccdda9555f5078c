// A number set with two large buttons, because typing needs two hands. It says by how much, not to what: quick taps add up.
import { Button } from "./button.tsx";

export interface CounterProps { label: string; value: number; least: number; most: number; onStep: (by: 1 | -1) => void }

export function Counter({ label, value, least, most, onStep }: CounterProps) {
  return (
    <fieldset class="stack tight">
      <legend class="label">{label}</legend>
      <div class="counter">
        <Button label="One less" disabled={value <= least} onClick={() => onStep(-1)}>−</Button>
        <output aria-live="polite">{value}</output>
        <Button label="One more" disabled={value >= most} onClick={() => onStep(1)}>+</Button>
      </div>
    </fieldset>
  );
}
