// One film test: which holder and side, speed and stop, and what showed; a fault names its check.
import { useState } from "preact/hooks";
import type { Check } from "../../domain/catalogue.ts";
import type { SpeedMark } from "../../domain/checks.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice, Chips } from "../../ui/choices.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { ownList } from "../visit/speeds.ts";
import { today } from "../visit/today.ts";
import { dayProblem } from "./decision_sheet.tsx";
import type { FilmTest } from "./film_save.ts";

const SHOWED = [{ value: "fine", label: "As it should be" }, { value: "fault", label: "A fault showed" }] as const;
const SIDES = [{ value: "a", label: "Side A" }, { value: "b", label: "Side B" }] as const;

/** Null for none typed, undefined for what is no one speed. */
function readMark(typed: string): SpeedMark | null | undefined {
  if (typed.trim() === "") return null;
  try {
    const { marks } = ownList(typed);
    return marks.length === 1 ? marks[0] : undefined;
  } catch {
    return undefined;
  }
}

export function FilmSheet({ piece, checks, onDone, onClose }: { piece: Record<string, any>; checks: readonly Check[]; onDone: (test: FilmTest) => void; onClose: () => void }) {
  const [day, setDay] = useState(today);
  const [holder, setHolder] = useState("");
  const [side, setSide] = useState("");
  const [speed, setSpeed] = useState("");
  const [stop, setStop] = useState("");
  const [showed, setShowed] = useState<"fine" | "fault" | null>(null);
  const [about, setAbout] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const [found, setFound] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const check = checks.find(({ id }) => id === about) ?? null;
  const save = () => {
    const mark = readMark(speed);
    const problem = dayProblem(day, "of the film")
      ?? (showed === null ? "Say first what showed: as it should be, or a fault." : null)
      ?? (showed === "fault" && !check ? "Pick the check that the fault belongs to." : null)
      ?? (showed === "fault" && check!.faults.length > 1 && !fault ? "Tap which fault it is." : null)
      ?? (mark === undefined ? "Type one speed as it is marked: 1/50 or 50, 2s for two seconds, or B." : null);
    setWrong(problem);
    if (problem) return;
    const words = found.trim() || (showed === "fault" ? check!.faults.find(({ id }) => id === (fault ?? check!.faults[0]!.id))!.title : "As it should be");
    onDone({ day, holder: holder.trim(), side, speed: mark ?? null, stop: stop.trim(), found: words, check, fault: showed === "fault" ? fault ?? check!.faults[0]!.id : null });
  };
  return (
    <Sheet title="A film test" onClose={onClose}>
      <TextField label="Day" kind="date" value={day} onInput={setDay} />
      <TextField label="Holder" max={12} value={holder} suggestions={piece["holders"]?.numbers} onInput={setHolder} />
      <Chips legend="Side of the holder" options={SIDES} chosen={[side]} onToggle={(one) => setSide(side === one ? "" : one)} />
      <TextField label="Speed as marked" max={12} value={speed} onInput={setSpeed} />
      <TextField label="Stop" max={12} placeholder="f/16" value={stop} onInput={setStop} />
      <BigChoice legend="What showed" options={SHOWED} value={showed} onChoose={(one) => { setShowed(one); setWrong(null); }} />
      <PickField label={showed === "fault" ? "Which check is it about" : "About a check (may stay empty)"} value={about} options={[{ value: "", label: "None in particular" }, ...checks.filter((one) => showed !== "fault" || one.faults.length > 0).map((one) => ({ value: one.id, label: one.title }))]}
        onPick={(id) => { setAbout(id); setFault(null); }} />
      {showed === "fault" && check && check.faults.length > 1 && <Chips legend="Which fault" options={check.faults.map((one) => ({ value: one.id, label: one.title }))} chosen={fault ? [fault] : []} onToggle={setFault} />}
      <TextField label="In words, for the report" lines value={found} max={2000} onInput={setFound} />
      {wrong && <p role="alert" class="wrong">{wrong}</p>}
      <Button kind="strong" wide onClick={save}>Keep it</Button>
    </Sheet>
  );
}
