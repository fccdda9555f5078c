// The marked speeds in a row, one tap each, with how many settled takes each has of those asked for.

interface Mark { text: string; seconds: number | null }

export interface SpeedPickerProps { marks: readonly Mark[]; chosen: string; wanted: number; countOf: (text: string) => number; onPick: (text: string) => void }

export function SpeedPicker({ marks, chosen, wanted, countOf, onPick }: SpeedPickerProps) {
  return (
    <fieldset class="stack tight">
      <legend class="label">Speed set on the shutter</legend>
      <div class="speeds">
        {marks.map(({ text }) => {
          const count = countOf(text);
          return (
            <button type="button" key={text} class="speed" aria-pressed={text === chosen} aria-label={`${text} of a second, ${count} of ${wanted} takes`} onClick={() => onPick(text)}>
              <span>{text}</span>
              <span class="pips" aria-hidden="true">{Array.from({ length: wanted }, (_, index) => <i key={index} class={index < count ? "full" : ""} />)}</span>
            </button>
          );
        })}
      </div>
    </fieldset>
  );
}
