// The places one by one: a closer look, where it is, what the second photo says, and the person's word.
import { useEffect, useRef, useState } from "preact/hooks";
import type { SettledPoint } from "../../domain/leak_compare.ts";
import type { Pixels } from "../../domain/leak_filters.ts";
import type { LeakPlace } from "../../domain/leak_reading.ts";
import { Button } from "../../ui/button.tsx";
import { lookCloser } from "./find.ts";
import { placeWords, SAID, SETTLED } from "./words.ts";

export interface PlaceListProps {
  photoKey: string;
  file: Blob;
  places: readonly LeakPlace[];
  settled: readonly SettledPoint[];
  onSay: (place: LeakPlace, said: "confirmed" | "struck_out") => void;
  onTakeOff: (place: LeakPlace) => void;
}

export function PlaceList({ photoKey, file, places, settled, onSay, onTakeOff }: PlaceListProps) {
  const looks = useLooks(photoKey, file, places);
  return (
    <ol class="leak-places">
      {places.map((place, index) => {
        const beside = place.of === null ? undefined : settled[place.of];
        const name = `place ${place.number}`;
        return (
          <li key={place.of ?? `${place.at.x} ${place.at.y}`} class={place.said}>
            <Look pixels={looks[index]} />
            <div class="stack tight">
              <p><strong class="figures">{place.number}</strong> {placeWords(place)}{place.of !== null && <span class="soft"> · {SAID[place.said]}</span>}</p>
              {beside && <p class="small">{SETTLED[beside.said]}</p>}
              {place.of === null
                ? <Button icon="bin" label={`Take ${name} off`} onClick={() => onTakeOff(place)}>Take off</Button>
                : (
                  <div class="row">
                    <Button icon="tick" label={`Light at ${name}`} pressed={place.said === "confirmed"} onClick={() => onSay(place, "confirmed")}>Light</Button>
                    <Button icon="cross" label={`No light at ${name}`} pressed={place.said === "struck_out"} onClick={() => onSay(place, "struck_out")}>No light</Button>
                  </div>
                )}
            </div>
          </li>
        );
      })}
    </ol>
  );
}

/** A closer look at each place, in their order; empty until it is there. */
function useLooks(photoKey: string, file: Blob, places: readonly LeakPlace[]): readonly Pixels[] {
  const [looks, setLooks] = useState<readonly Pixels[]>([]);
  const wanted = places.map(({ at }) => `${at.x} ${at.y}`).join();
  useEffect(() => {
    let current = true;
    // Without a closer look the list still stands; the photo above shows the same places.
    lookCloser(photoKey, file, places.map(({ at }) => at)).then((found) => { if (current) setLooks(found); }, () => undefined);
    return () => { current = false; };
  }, [photoKey, file, wanted]);
  return looks;
}

function Look({ pixels }: { pixels: Pixels | undefined }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    if (!pixels) return;
    const node = canvas.current!;
    [node.width, node.height] = [pixels.width, pixels.height];
    node.getContext("2d")?.putImageData(new ImageData(Uint8ClampedArray.from(pixels.data), pixels.width), 0, 0);
  }, [pixels]);
  return <canvas ref={canvas} class="leak-look" aria-hidden="true" />;
}
