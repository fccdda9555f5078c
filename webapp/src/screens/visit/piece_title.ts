// What to call a piece: what the person called it, else what it says on it, else its type.
import type { Rec } from "../../store/store.ts";
import terms from "@catalogue/terms.json";

const types = terms.piece_types as Record<string, readonly { id: string; title: string }[]>;

/** The trade's word for a kind and type, as in "Folding field camera". */
export function typeTitle(kind: string | undefined, type: string | null | undefined): string {
  const known = types[kind ?? ""]?.find((one) => one.id === type);
  if (known && kind === "lens") return known.id === "barrel" ? "Barrel lens" : "Lens in a shutter";
  return known?.title ?? terms.piece_kinds.find((one) => one.id === kind)?.title ?? "Piece";
}

export function pieceTitle(piece: Rec | undefined): string {
  if (!piece) return "Piece on another phone";
  const { title, marks, kind, type, holders } = piece.values;
  if (title) return title as string;
  const read = (marks as { text: string; none_marked?: boolean }[] | undefined)?.find((mark) => mark.text && !mark.none_marked);
  const word = typeTitle(kind, type);
  if (kind === "holders" && holders?.count) return `${holders.count} ${word.toLowerCase()}`;
  return read ? `${word}, “${read.text}”` : word;
}
