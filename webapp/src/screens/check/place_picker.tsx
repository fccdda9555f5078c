// The places of one check in a row to swipe: where it was looked at, what was found there, and one tap to each.
import { useEffect, useRef } from "preact/hooks";
import { Mark } from "../../ui/mark.tsx";
import type { ResultAt } from "../visit/judge.ts";
import { outcomeSign, placeWords } from "../visit/words.ts";

export interface PlacePickerProps {
  check: string;
  places: readonly string[];
  current: string;
  resultAt: ResultAt;
  onPick: (place: string) => void;
  /** True when the next answer goes to every place still open. */
  forAll: boolean;
  onForAll: (all: boolean) => void;
}

export function PlacePicker({ check, places, current, resultAt, onPick, forAll, onForAll }: PlacePickerProps) {
  const row = useRef<HTMLDivElement>(null);
  useEffect(() => {
    row.current?.querySelector('[aria-current="true"]')?.scrollIntoView({ block: "nearest", inline: "center" });
  }, [current]);
  const open = places.filter((place) => !resultAt(check, place));
  return (
    <section class="stack tight" aria-label="Where">
      <h2 class="only-read">{placeWords(current)}</h2>
      <div class="places" ref={row}>
        {places.map((place) => {
          const sign = outcomeSign(resultAt(check, place)?.outcome);
          return (
            <button type="button" key={place} class="place" aria-current={place === current ? "true" : undefined} onClick={() => onPick(place)}>
              <Mark tone={sign.tone} word={sign.word} quiet hollow={sign.hollow} />
              {placeWords(place)}
            </button>
          );
        })}
      </div>
      {open.length > 1 && (
        <button type="button" class="chip" aria-pressed={forAll} onClick={() => onForAll(!forAll)}>
          Next answer counts for all {open.length} places still open
        </button>
      )}
    </section>
  );
}
