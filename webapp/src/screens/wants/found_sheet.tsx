// The day a wanted piece turned up, and which piece of the book it is, if it is one.
import { useState } from "preact/hooks";
import { dayProblem } from "../../domain/wants.ts";
import { useLive } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { today } from "../visit/today.ts";
import { kept } from "../visit/view.ts";
import type { KeptWant } from "./wants.ts";

export function FoundSheet({ want, onFound, onClose }: { want: KeptWant; onFound: (found: { found: string; piece: string | null }) => void; onClose: () => void }) {
  const pieces = useLive(async (store) => (await store.byKind("piece")).filter(kept).map((piece) => ({ value: piece.id, label: pieceTitle(piece) })).sort((a, b) => a.label.localeCompare(b.label)), []) ?? [];
  const [day, setDay] = useState(today());
  const [piece, setPiece] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const save = () => {
    const problem = day ? dayProblem({ ...want, found: day }, today()) : "Set the day it turned up.";
    setWrong(problem);
    if (!problem) onFound({ found: day, piece: piece || null });
  };
  return (
    <Sheet title="It turned up" onClose={onClose}>
      <TextField label="On the day" kind="date" value={day} wrong={wrong} onInput={setDay} />
      {pieces.length > 0 && <PickField label="Which piece of the book" value={piece} options={[{ value: "", label: "None of them" }, ...pieces]} onPick={setPiece} />}
      <Button kind="strong" wide icon="tick" onClick={save}>Found</Button>
    </Sheet>
  );
}
