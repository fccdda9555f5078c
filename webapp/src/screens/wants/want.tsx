// One want: how long it has waited, whether it still stands, the most for it and why, and the day it turned up or was let go.
import { useState } from "preact/hooks";
import { dayProblem } from "../../domain/wants.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField } from "../../ui/field.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { useHabits } from "../ledger/habits.ts";
import { useGroups } from "../prices/notes.ts";
import { Missing } from "../visit/missing.tsx";
import { MoneyField } from "../visit/money_field.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { today } from "../visit/today.ts";
import { dayWords } from "../visit/words.ts";
import { FoundSheet } from "./found_sheet.tsx";
import { StandsCard } from "./stands_card.tsx";
import { isOpen, type KeptWant, likeWants, useWants } from "./wants.ts";
import { sinceWords, waitedLine } from "./words.ts";

const RESTS = [0, 7, 14, 30, 60, 90];

export default function WantScreen({ params }: ScreenInput) {
  const [wants, groups, habits] = [useWants(), useGroups(), useHabits()];
  if (!wants || !groups || !habits) return <Waiting />;
  const want = wants.find(({ id }) => id === params["want"]);
  if (!want) return <Missing what="want" />;
  return <Shown key={want.id} want={want} wants={wants} groups={groups} restDays={habits.rest_days} />;
}

function Shown({ want, wants, groups, restDays }: { want: KeptWant; wants: readonly KeptWant[]; groups: readonly string[]; restDays: number }) {
  const store = useStore();
  const [finding, setFinding] = useState(false);
  const [wrongDay, setWrongDay] = useState<string | null>(null);
  const save = (values: Record<string, unknown>, told?: string) => {
    const before = Object.fromEntries(Object.keys(values).map((field) => [field, (want as unknown as Record<string, unknown>)[field] ?? null]));
    store.set("want", want.id, values).then(
      () => { if (told) showToast({ words: told, undo: () => save(before) }); },
      (error: unknown) => tellFailure(error, () => save(values, told)),
    );
  };
  const keepDay = (wanted: string) => {
    const problem = wanted ? dayProblem({ ...want, wanted }, today()) : "Set the day since when you want it.";
    setWrongDay(problem);
    if (!problem) save({ wanted });
  };
  const remove = () => {
    store.remove("want", want.id).then(() => {
      go("#/wants");
      showToast({ words: `Taken off: ${want.what || "a want"}`, undo: () => { store.set("want", want.id, { deleted: false }).catch((error: unknown) => tellFailure(error)); } });
    }, (error: unknown) => tellFailure(error, remove));
  };
  const { of, waiting } = likeWants(want, wants, today());
  const problem = dayProblem(want, today());
  const rests = want.rest_days ?? restDays;
  return (
    <Screen title={want.what || "A want"} over="Looked for" back="#/wants" backWord="Back to the wants"
      foot={isOpen(want) ? <Button wide kind="strong" icon="tick" onClick={() => setFinding(true)}>It turned up</Button> : <Button wide icon="search" onClick={() => save({ found: null, dropped: null, piece: null }, "Looked for again")}>Look for it again</Button>}>
      <Versions record={want.id} />
      {problem && <Note tone="bad" title="These days cannot be"><p>{problem}</p></Note>}
      {isOpen(want) ? <p class="card lit">{waitedLine(want, today(), of, waiting)}</p> : <Ended want={want} />}
      {isOpen(want) && <StandsCard want={want} restDays={restDays} onStands={() => save({ stands: today() }, "It stands")} onDrop={() => save({ dropped: today() }, "Let go")} />}
      <SavedField label="What it is" max={120} saved={want.what ?? ""} onSave={(what) => save({ what: what.trim() })} />
      <MoneyField label="Most you would pay" hint="All in: with tax, freight and repair" saved={want.most ?? null} onSave={(most) => save({ most })} />
      <SavedField label="Why you want it" lines max={1000} saved={want.why ?? ""} onSave={(why) => save({ why })} />
      <SavedField label="Group" max={80} suggestions={groups} saved={want.group ?? ""} onSave={(group) => save({ group: group.trim() })} />
      <SavedField label="Wanted since" kind="date" saved={want.wanted ?? ""} wrong={wrongDay} onSave={keepDay} />
      <PickField label="How long it rests" value={String(rests)} options={[...new Set([...RESTS, restDays, rests])].map((days) => ({ value: String(days), label: days === 0 ? "Not at all" : `${days} days` }))} onPick={(days) => save({ rest_days: Number(days) })} />
      <Button kind="danger" icon="bin" onClick={remove}>Take it off the list</Button>
      {finding && <FoundSheet want={want} onClose={() => setFinding(false)} onFound={(found) => { setFinding(false); save(found, "Found"); }} />}
    </Screen>
  );
}

function Ended({ want }: { want: KeptWant }) {
  const piece = useLive(async (store) => {
    const record = want.piece ? await store.get(want.piece) : undefined;
    const [visit] = record ? await store.children(record.id, "visit") : [];
    return record && visit ? { title: pieceTitle(record), visit: visit.id } : null;
  }, [want.piece]);
  const ended = (want.found || want.dropped)!;
  const after = want.wanted && want.wanted <= ended ? `, after ${sinceWords(want.wanted, ended)}` : "";
  return (
    <div class="card lit stack tight">
      <p>{want.found ? "Found" : "Let go"} on {dayWords(ended)}{after}.</p>
      {piece && <a href={address("/visit", piece.visit)}>{piece.title}</a>}
      {want.found && <Button icon="coin" href={address("/prices/add", { what: want.what ?? "", group: want.group ?? "", day: want.found })}>Note what it sold for</Button>}
    </div>
  );
}
