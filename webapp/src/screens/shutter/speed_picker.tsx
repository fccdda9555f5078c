// The marked speeds in a row, one tap each, with how many settled takes each has.

export const SETTLED_WANTED = 3;

interface Mark { text: string; seconds: number | null }

export function SpeedPicker({ marks, chosen, countOf, onPick }: { marks: readonly Mark[]; chosen: string; countOf: (text: string) => number; onPick: (text: string) => void }) {
  return (
    <fieldset class="stack tight">
      <legend class="label">Speed set on the shutter</legend>
      <div class="speeds">
        {marks.map(({ text }) => {
          const count = countOf(text);
          return (
            <button type="button" key={text} class="speed" aria-pressed={text === chosen} aria-label={`${text} of a second, ${count} of ${SETTLED_WANTED} takes`} onClick={() => onPick(text)}>
              <span>{text}</span>
              <span class="pips" aria-hidden="true">{Array.from({ length: SETTLED_WANTED }, (_, index) => <i key={index} class={index < count ? "full" : ""} />)}</span>
            </button>
          );
        })}
      </div>
    </fieldset>
  );
}
