// Moves a photo to another piece of the session: one tap on its letter, and the way back in the toast.
import type { Rec } from "../../store/store.ts";
import { BigChoice } from "../../ui/choices.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { Tag } from "../../ui/tag.tsx";
import { showToast } from "../../ui/toast.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import type { OpenPiece } from "../visit/view.ts";

export interface MoveSheetProps {
  open: readonly OpenPiece[];
  photo: Rec;
  onMove: (to: Record<string, unknown>) => void;
  onClose: () => void;
}

export function MoveSheet({ open, photo, onMove, onClose }: MoveSheetProps) {
  const { visit, check = null, place = "" } = photo.values;
  const others = open.filter((one) => one.visit.id !== visit);
  const move = (to: string) => {
    const letter = others.find((one) => one.visit.id === to)?.visit.values["tag"];
    // The check stays behind: another piece may have no such check.
    onMove({ visit: to, check: null, place: "" });
    showToast({ words: `Photo moved to ${letter}`, undo: () => onMove({ visit, check, place }) });
  };
  return (
    <Sheet title="Whose photo is it?" onClose={onClose}>
      <BigChoice legend="Piece" legendHidden oneColumn onChoose={move}
        options={others.map((one) => ({ value: one.visit.id, label: pieceTitle(one.piece), mark: <Tag letter={one.visit.values["tag"]} /> }))} />
    </Sheet>
  );
}
