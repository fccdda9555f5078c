// The lettered tags of the pieces on the table: one tap switches, and each piece is found where it was left.
import { here } from "../../ui/route.ts";
import { Tag } from "../../ui/tag.tsx";
import type { OpenPiece } from "./view.ts";
import { pieceTitle } from "./piece_title.ts";

/** Where each visit was last looked at, for as long as the app is open. */
const leftAt = new Map<string, string>();

export function TagBar({ open, current }: { open: readonly OpenPiece[]; current: string }) {
  const { path, query } = here.value;
  if (path.startsWith(`/visit/${current}`)) leftAt.set(current, `#${path}${Object.keys(query).length > 0 ? `?${new URLSearchParams(query)}` : ""}`);
  if (open.length < 2) return null;
  return (
    <nav class="tag-bar" aria-label="Pieces on the table">
      {open.map(({ visit, piece }) => (
        <a key={visit.id} class="tag-tab" href={leftAt.get(visit.id) ?? `#/visit/${visit.id}`} aria-current={visit.id === current ? "true" : undefined}>
          <Tag letter={visit.values["tag"]} />
          <span class="tag-name">{pieceTitle(piece)}</span>
        </a>
      ))}
    </nav>
  );
}
