// The story with a seller in time, newest first: each event leads to what it is about; a dealing can be taken off.
import type { StoryEvent } from "../../domain/seller_story.ts";
import type { Rec } from "../../store/store.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { MarkShape } from "../../ui/mark.tsx";
import { address } from "../../ui/route.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { kept } from "../visit/view.ts";
import { dayWords } from "../visit/words.ts";

export function StoryLines({ events, dealings }: { events: readonly StoryEvent[]; dealings: readonly Rec[] }) {
  return <ol class="lines">{events.map((one) => <EventLine key={`${one.kind} ${one.record} ${one.day}`} event={one} note={dealings.find(({ id }) => id === one.record)?.values["note"]} />)}</ol>;
}

function EventLine({ event, note }: { event: StoryEvent; note: string | undefined }) {
  const { kind, record, say, more, tone } = event;
  return (
    <li class="line">
      <MarkShape tone={tone} hollow={tone === "none"} />
      <span>
        {kind === "dealing" && <Versions record={record} />}
        <span class="under">{dayWords(event.day)}</span>
        {kind === "session" ? <a class="name story-link" href={address("/session", record)}>{say}</a> : <span class="name">{say}</span>}
        {kind === "claims" && <PieceLink piece={record} />}
        {more && <span class="under">{more}</span>}
        {note && <span class="under">{note}</span>}
      </span>
      {kind === "dealing" ? <TakeOff dealing={record} say={say} /> : <span />}
    </li>
  );
}

/** The latest look at a piece. */
function PieceLink({ piece }: { piece: string }) {
  const read = useLive(async (store) => {
    const [record, visits] = await Promise.all([store.get(piece), store.children(piece, "visit")]);
    const began = (one: Rec) => (one.values["began"]?.ms ?? 0) as number;
    return { title: pieceTitle(record), visit: visits.filter(kept).sort((a, b) => began(b) - began(a))[0]?.id };
  }, [piece]);
  if (!read) return null;
  return read.visit ? <a class="under story-link" href={address("/visit", read.visit)}>{read.title}</a> : <span class="under">{read.title}</span>;
}

function TakeOff({ dealing, say }: { dealing: string; say: string }) {
  const store = useStore();
  const remove = () => {
    store.remove("dealing", dealing).then(
      () => showToast({ words: "Dealing taken off", undo: () => { store.set("dealing", dealing, { deleted: false }).catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error),
    );
  };
  return <Button kind="bare" icon="bin" label={`Take this dealing off: ${say}`} onClick={remove} />;
}
