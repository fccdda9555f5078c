// One sale: its pieces under their letters, and the way to put another on the table.
import { useState } from "preact/hooks";
import { showMoney } from "../../domain/money.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { EmptyState, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { SellerLine } from "../new_session/seller_line.tsx";
import { Versions } from "../history/versions.tsx";
import { Missing } from "../visit/missing.tsx";
import { kept, openPieces } from "../visit/view.ts";
import { dayWords } from "../visit/words.ts";
import { AddPieceSheet } from "./add_piece_sheet.tsx";
import { addPiece, type NewPiece } from "./add_piece.ts";
import { PieceLine } from "./piece_line.tsx";
import { SessionFacts } from "./session_facts.tsx";
import { sessionTitle } from "./session_title.ts";

export default function Session({ params, query }: ScreenInput) {
  const id = params["session"]!;
  const store = useStore();
  const [asked, setAsked] = useState(false);
  const adding = asked || query["add"] === "1";
  const read = useLive(async (from) => {
    const session = await from.get(id);
    if (session?.kind !== "session" || !kept(session)) return null;
    const seller = session.values["seller"] ? await from.get(session.values["seller"]) : undefined;
    return { session, seller, open: await openPieces(from, id) };
  }, [id]);
  if (read === null) return <Missing what="session" />;
  if (!read) return <Waiting />;

  const { session, seller, open } = read;
  const close = () => {
    setAsked(false);
    if (query["add"]) go(address("/session", id), { replace: true });
  };
  const add = (piece: NewPiece) => {
    addPiece(store, id, piece).then((visit) => {
      // The phone's own way back leads to the table, not to the question what lies on it.
      close();
      go(address("/visit", visit));
    }, (error: unknown) => tellFailure(error, () => add(piece)));
  };
  const asking = session.values["asking"];
  return (
    <Screen keepPlace={id} title={sessionTitle(session, seller)} over={dayWords(session.values["day"])} back="#/" backWord="Back to the sales"
      actions={<Button kind="bare" icon="page" label="Report on the whole session" href={address("/session", id, "/report")} />}
      foot={<Button wide kind="strong" icon="plus" onClick={() => setAsked(true)}>Add a piece</Button>}
    >
      {seller && <SellerLine seller={seller} />}
      {asking && <p class="figures">Lot price asked: {showMoney(asking)}</p>}
      {open.length === 0
        ? <EmptyState icon="box" title="Nothing on the table yet" steps={["Add a camera, a lens, a set of holders, or anything else.", "Each piece gets a letter; up to three or more may lie open at once.", "Photos and answers go to the letter that is lit."]} />
        : <ul class="lines">{open.map((piece) => <PieceLine key={piece.visit.id} open={piece} />)}</ul>}
      <Versions record={id} />
      <SessionFacts session={session} />
      {open.length > 0 && <Button wide icon="coin" href={address("/session", id, "/deal")}>Deal sheet of the lot</Button>}
      {open.length > 0 && <Button wide icon="ruler" href={address("/session", id, "/fit")}>What goes together</Button>}
      {open.length > 0 && <Button wide icon="page" href={address("/session", id, "/report")}>Condition report of the session</Button>}
      {adding && <AddPieceSheet onAdd={add} onClose={close} />}
    </Screen>
  );
}
