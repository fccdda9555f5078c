// Millimetres or inches, as two buttons of one choice.
import type { LengthUnit } from "../../domain/lengths.ts";

export function UnitPick({ unit, onPick }: { unit: LengthUnit; onPick: (unit: LengthUnit) => void }) {
  return (
    <div class="chips" role="group" aria-label="Unit">
      {(["mm", "in"] as const).map((one) => <button type="button" class="chip" key={one} aria-pressed={unit === one} onClick={() => onPick(one)}>{one === "mm" ? "mm" : "inch"}</button>)}
    </div>
  );
}
