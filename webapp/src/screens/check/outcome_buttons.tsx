// The five outcomes under the thumb, and the ways back and on, which store nothing.
import { Icon } from "../../ui/icon.tsx";
import { MarkShape } from "../../ui/mark.tsx";
import { OUTCOMES, type Outcome } from "../visit/words.ts";

export interface OutcomeButtonsProps {
  chosen: Outcome | undefined;
  onChoose: (outcome: Outcome) => void;
  /** To the step before; absent at the first one. */
  onBefore?: () => void;
  onLater: () => void;
}

/** Rows as a right or left thumb sweeps them: the two quick answers lowest. */
const ROWS: readonly Outcome[] = ["cannot_tell", "not_checked", "worn", "faulty", "in_order"];

export function OutcomeButtons({ chosen, onChoose, onBefore, onLater }: OutcomeButtonsProps) {
  return (
    <div class="outcomes">
      <div class="found" role="group" aria-label="What you found">
        {ROWS.map((id) => {
          const outcome = OUTCOMES.find((one) => one.id === id)!;
          return (
            <button type="button" key={id} class={`outcome ${outcome.tone}`} aria-pressed={chosen === id} aria-keyshortcuts={String(OUTCOMES.indexOf(outcome) + 1)} onClick={() => onChoose(id)}>
              <MarkShape tone={outcome.tone} hollow={id === "not_checked"} />
              <span>{outcome.word}</span>
            </button>
          );
        })}
      </div>
      <div class="ways" role="group" aria-label="Without an answer">
        {onBefore && <button type="button" class="outcome way" aria-label="Back to the look before" onClick={onBefore}><Icon name="before" /><span>Back</span></button>}
        <button type="button" class="outcome way" aria-keyshortcuts="ArrowRight" onClick={onLater}><Icon name="skip" /><span>{chosen ? "Next" : "Later"}</span></button>
      </div>
    </div>
  );
}
