// One answer of a distant seller: the words once, what stands behind them, and what they claim of each check.
import { useState } from "preact/hooks";
import type { Catalogue, Check, Question } from "../../domain/catalogue.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { today } from "../visit/today.ts";
import { saveAnswer, takeBack } from "./save_answer.ts";

const SAYS = [
  { value: "", label: "Says nothing of it" },
  { value: "in_order", label: "In order" },
  { value: "worn", label: "Worn" },
  { value: "faulty", label: "Faulty" },
  { value: "does_not_apply", label: "Has no such part" },
  { value: "cannot_tell", label: "Does not know" },
];

export interface AnswerSheetProps {
  question: Question;
  checks: readonly Check[];
  piece: string;
  visit: string;
  catalogue: Catalogue;
  /** Their words, where a reply was pasted. */
  words: string;
  onClose: () => void;
}

export function AnswerSheet({ question, checks, piece, visit, catalogue, words: pasted, onClose }: AnswerSheetProps) {
  const store = useStore();
  const [words, setWords] = useState(pasted);
  const [evidence, setEvidence] = useState("words");
  const [day, setDay] = useState(() => today());
  const [said, setSaid] = useState<Readonly<Record<string, string>>>({});
  const [wrong, setWrong] = useState<string | null>(null);
  const kinds = catalogue.terms.evidence_kinds.filter(({ id }) => id !== "seen");
  const all = (outcome: string) => setSaid(Object.fromEntries(checks.map(({ id }) => [id, outcome])));
  const told = Object.fromEntries(Object.entries(said).filter(([, outcome]) => outcome !== ""));

  const save = () => {
    if (Object.keys(told).length === 0) return setWrong("Say first what it claims: pick an outcome for at least one line, or “They do not know”.");
    if (!/^\d{4}-\d{2}-\d{2}$/.test(day) || day > today()) return setWrong("The day of the answer must be today or earlier.");
    saveAnswer(store, { piece, visit, words, evidence, day, said: told }).then((made) => {
      showToast({ words: made.length === 1 ? "Kept as 1 claim" : `Kept as ${made.length} claims`, undo: () => { takeBack(store, made).catch((error: unknown) => tellFailure(error)); } });
      onClose();
    }, (error: unknown) => tellFailure(error, save));
  };

  return (
    <Sheet title={question.title} onClose={onClose}>
      <p class="soft">An answer is kept as a claim with its day. It never counts as seen.</p>
      <TextField label="In their words (private)" lines value={words} max={2000} onInput={setWords} />
      <PickField label="What stands behind it" value={evidence} options={kinds.map(({ id, title }) => ({ value: id, label: title }))} hint={kinds.find(({ id }) => id === evidence)?.say} onPick={setEvidence} />
      <div class="row">
        {checks.length > 1 && <Button onClick={() => all("in_order")}>All in order</Button>}
        <Button onClick={() => all("cannot_tell")}>They do not know</Button>
      </div>
      {!question.fair_not_to_know && <p class="soft small">This needs no knowledge of cameras: ask again, and say how it is done.</p>}
      <div class="claim-choice">
        {checks.map((check) => <PickField key={check.id} label={check.title} value={said[check.id] ?? ""} options={SAYS} onPick={(outcome) => { setSaid({ ...said, [check.id]: outcome }); setWrong(null); }} />)}
      </div>
      <TextField label="Day of the answer" kind="date" value={day} onInput={setDay} />
      {wrong && <p role="alert" class="wrong">{wrong}</p>}
      <Button kind="strong" wide onClick={save}>Keep the answer</Button>
    </Sheet>
  );
}
