// One session in the list: when, where, and its pieces with their letters and verdict words.
import { useLive } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Mark } from "../../ui/mark.tsx";
import { address } from "../../ui/route.ts";
import { Tag } from "../../ui/tag.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useVisit } from "../visit/use_visit.ts";
import { openPieces, type OpenPiece } from "../visit/view.ts";
import { dayWords, verdictSign } from "../visit/words.ts";
import { sessionTitle } from "../session/session_title.ts";

/** Pieces named on a card; the rest are counted. */
const NAMED = 4;

export function SessionCard({ session }: { session: Rec }) {
  const read = useLive(async (store) => ({
    open: await openPieces(store, session.id),
    seller: session.values["seller"] ? await store.get(session.values["seller"]) : undefined,
  }), [session.id]);
  const open = read?.open ?? [];
  return (
    <li class="card sale">
      <a href={address("/session", session.id)} class="sale-head">
        <h2>{sessionTitle(session, read?.seller)}</h2>
        <span class="soft small">{dayWords(session.values["day"])}</span>
      </a>
      <ul>
        {open.slice(0, NAMED).map((piece) => <CardPiece key={piece.visit.id} open={piece} />)}
        {open.length > NAMED && <li class="soft small">and {open.length - NAMED} more</li>}
        {read && open.length === 0 && <li class="soft small">no piece yet</li>}
      </ul>
    </li>
  );
}

function CardPiece({ open }: { open: OpenPiece }) {
  const ready = useVisit(open.visit.id, { alone: true });
  const sign = ready && verdictSign(ready.judged.verdict.verdict);
  return (
    <li>
      <a class="card-piece" href={address("/visit", open.visit.id)}>
        <Tag letter={open.visit.values["tag"]} />
        <span>{pieceTitle(open.piece)}</span>
        {sign && <Mark tone={sign.tone} word={sign.word} />}
      </a>
    </li>
  );
}
