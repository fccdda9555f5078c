// The five outcomes under the thumb, and "later", which stores nothing.
import { Icon } from "../../ui/icon.tsx";
import { MarkShape } from "../../ui/mark.tsx";
import { OUTCOMES, type Outcome } from "../visit/words.ts";

export interface OutcomeButtonsProps {
  chosen: Outcome | undefined;
  onChoose: (outcome: Outcome) => void;
  /** Absent when there is nothing after this one. */
  onLater?: () => void;
}

/** Rows as a right or left thumb sweeps them: the two quick answers lowest. */
const ROWS: readonly Outcome[] = ["cannot_tell", "not_checked", "worn", "faulty", "in_order"];

export function OutcomeButtons({ chosen, onChoose, onLater }: OutcomeButtonsProps) {
  return (
    <div class="outcomes" role="group" aria-label="What you found">
      {ROWS.map((id) => {
        const outcome = OUTCOMES.find((one) => one.id === id)!;
        return (
          <button type="button" key={id} class={`outcome ${outcome.tone}`} aria-pressed={chosen === id} aria-keyshortcuts={String(OUTCOMES.indexOf(outcome) + 1)} onClick={() => onChoose(id)}>
            <MarkShape tone={outcome.tone} hollow={id === "not_checked"} />
            <span>{outcome.word}</span>
          </button>
        );
      })}
      {onLater && (
        <button type="button" class="outcome later" onClick={onLater} aria-keyshortcuts="ArrowRight">
          <Icon name="skip" />
          <span>Later</span>
        </button>
      )}
    </div>
  );
}
