// One piece in a list: its tag, its name, and the verdict in a word with its sign.
import { Icon } from "../../ui/icon.tsx";
import { Mark } from "../../ui/mark.tsx";
import { address } from "../../ui/route.ts";
import { Tag } from "../../ui/tag.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useVisit } from "../visit/use_visit.ts";
import type { OpenPiece } from "../visit/view.ts";
import { verdictSign } from "../visit/words.ts";

export function PieceLine({ open }: { open: OpenPiece }) {
  const ready = useVisit(open.visit.id, { alone: true });
  const sign = ready && verdictSign(ready.judged.verdict.verdict);
  const { done, of } = ready?.judged.full ?? { done: 0, of: 0 };
  return (
    <li>
      <a class="line" href={address("/visit", open.visit.id)}>
        <Tag letter={open.visit.values["tag"]} />
        <span>
          <span class="name">{pieceTitle(open.piece)}</span>
          {sign && <span class="under"><Mark tone={sign.tone} word={sign.word} /></span>}
          <span class="under figures">{ready ? `${done} of ${of} looked at` : "reading…"}</span>
        </span>
        <Icon name="onward" />
      </a>
    </li>
  );
}
