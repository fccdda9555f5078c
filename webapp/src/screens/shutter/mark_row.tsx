// One mark of the waveform without a finger on it: a slider for keyboard and screen reader, and two buttons for a fine step.
import { Button } from "../../ui/button.tsx";
import { type Span, steps } from "./view_span.ts";

export interface MarkRowProps {
  /** "Opening" or "Closing". */
  label: string;
  s: number;
  span: Span;
  onMove: (s: number) => void;
}

/** Arrow keys move by a tenth of a millisecond; with Shift, and by Page Up and Page Down, by a fortieth of what is shown. */
export function MarkRow({ label, s, span, onMove }: MarkRowProps) {
  const { fine_s: fine, coarse_s: coarse } = steps(span);
  if (s < span.from_s || s > span.to_s) {
    return <Button wide onClick={() => onMove((span.from_s + span.to_s) / 2)}>{label} is out of sight: bring it here</Button>;
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const along = event.key === "ArrowRight" || event.key === "ArrowUp" || event.key === "PageUp" ? 1
      : event.key === "ArrowLeft" || event.key === "ArrowDown" || event.key === "PageDown" ? -1 : 0;
    if (along === 0) return;
    event.preventDefault();
    onMove(s + along * (event.shiftKey || event.key.startsWith("Page") ? coarse : fine));
  };
  return (
    <div class="mark-row">
      <Button icon="back" label={`${label} mark 0.1 milliseconds earlier`} onClick={() => onMove(s - fine)} />
      <label class="mark-slider small">
        <span class="figures">{label}<span class="only-read"> mark</span>, {(1000 * s).toFixed(1)}&nbsp;ms</span>
        <input type="range" min={span.from_s} max={span.to_s} step="any" value={s} aria-valuetext={`${(1000 * s).toFixed(1)} milliseconds`}
          onKeyDown={onKeyDown} onInput={(event) => onMove(Number(event.currentTarget.value))} />
      </label>
      <Button icon="onward" label={`${label} mark 0.1 milliseconds later`} onClick={() => onMove(s + fine)} />
    </div>
  );
}
