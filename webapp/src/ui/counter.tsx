// A number set with two large buttons, because typing needs two hands.
import { Button } from "./button.tsx";

export interface CounterProps { label: string; value: number; least: number; most: number; onChange: (value: number) => void }

export function Counter({ label, value, least, most, onChange }: CounterProps) {
  return (
    <fieldset class="stack tight">
      <legend class="label">{label}</legend>
      <div class="counter">
        <Button label="One less" disabled={value <= least} onClick={() => onChange(value - 1)}>−</Button>
        <output aria-live="polite">{value}</output>
        <Button label="One more" disabled={value >= most} onClick={() => onChange(value + 1)}>+</Button>
      </div>
    </fieldset>
  );
}
