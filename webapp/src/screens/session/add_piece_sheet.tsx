// Kind, then type: two taps and the piece is on the table; a set of holders also says how many.
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { Counter } from "../../ui/counter.tsx";
import { kindIcon } from "../visit/words.ts";
import type { NewPiece } from "./add_piece.ts";
import terms from "@catalogue/terms.json";

type Term = { id: string; title: string; hint: string };
const TYPES = terms.piece_types as Record<string, readonly Term[]>;
const UNKNOWN = "not_known";
const USUAL_COUNT = 5;
const MOST = 200;

export function AddPieceSheet({ onAdd, onClose }: { onAdd: (piece: NewPiece) => void; onClose: () => void }) {
  const [kind, setKind] = useState<string | null>(null);
  const [count, setCount] = useState(USUAL_COUNT);
  if (kind === null) {
    return (
      <Sheet title="What is it?" onClose={onClose}>
        <BigChoice legend="Kind of piece" legendHidden options={terms.piece_kinds.map(({ id, title, hint }) => ({ value: id, label: title, hint, icon: kindIcon(id) }))} onChoose={setKind} />
      </Sheet>
    );
  }
  const types = [...(TYPES[kind] ?? []), { id: UNKNOWN, title: "Not sure yet", hint: "You can say it later." }];
  const add = (type: string) => onAdd({ kind, type: type === UNKNOWN ? null : type, ...(kind === "holders" ? { count } : {}) });
  return (
    <Sheet title={kind === "holders" ? "How many, and which?" : "Which type?"} onClose={onClose}>
      {kind === "holders" && <Counter label="How many holders" value={count} least={1} most={MOST} onStep={(by) => setCount((now) => Math.min(MOST, Math.max(1, now + by)))} />}
      <BigChoice legend="Type" legendHidden options={types.map(({ id, title, hint }) => ({ value: id, label: title, hint }))} onChoose={add} />
      <Button icon="back" kind="quiet" onClick={() => setKind(null)}>Another kind</Button>
    </Sheet>
  );
}
