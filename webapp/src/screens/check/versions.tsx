// Two people answered without knowing of each other: both answers are shown, and a person picks.
import { answerId } from "../../domain/ids.ts";
import type { Result } from "../../domain/checks.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Mark } from "../../ui/mark.tsx";
import { Note } from "../../ui/notes.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { outcomeSign } from "../visit/words.ts";
import type { Spot } from "./save.ts";

const when = (stamp: string): string => new Date(Number(stamp.slice(0, 15))).toLocaleString(undefined, { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });

export function Versions({ spot }: { spot: Spot }) {
  const store = useStore();
  const id = answerId(spot.visit, spot.check, spot.place);
  const versions = useLive((from) => from.versions(id, "result"), [id]);
  if (!versions || versions.length < 2) return null;
  return (
    <Note tone="care" title={`${versions.length} versions: which holds?`}>
      <ul class="stack">
        {versions.map((version) => {
          const sign = outcomeSign((version.value as Result | null)?.outcome);
          return (
            <li key={version.id} class="row">
              <span class="grow"><Mark tone={sign.tone} word={sign.word} hollow={sign.hollow} /> <span class="small">{version.author || "somebody"}, {when(version.stamp)}</span></span>
              <Button onClick={() => { store.pick(id, "result", version).catch((error: unknown) => tellFailure(error)); }}>This one</Button>
            </li>
          );
        })}
      </ul>
    </Note>
  );
}
