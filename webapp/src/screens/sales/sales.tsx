// The first screen: every sale, newest first, its pieces and their verdicts, search, and the way back to where you were.
import { useState } from "preact/hooks";
import { useLive } from "../../store/live.ts";
import type { Rec, Store } from "../../store/store.ts";
import { DEMO_BOOK } from "../../sync/pairing.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { EmptyState } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import { kept } from "../visit/view.ts";
import { findSessions, type Searchable } from "./search.ts";
import { Resume } from "./resume.tsx";
import { SessionCard } from "./session_card.tsx";
import "./sales.css";

/** Cards drawn at once; older sessions come when asked for or searched. */
const PAGE = 12;

const newestFirst = (a: Rec, b: Rec): number =>
  String(b.values["day"] ?? "").localeCompare(String(a.values["day"] ?? "")) || (b.values["began"]?.ms ?? 0) - (a.values["began"]?.ms ?? 0);

async function sessionsFound(store: Store, query: string): Promise<Rec[]> {
  const sessions = (await store.byKind("session")).filter(kept).sort(newestFirst);
  if (query.trim() === "") return sessions;
  const [sellers, visits, pieces] = await Promise.all([store.byKind("seller"), store.byKind("visit"), store.byKind("piece")]);
  const sellerNames = new Map(sellers.map((seller) => [seller.id, seller.values["name"] as string]));
  const pieceById = new Map(pieces.map((piece) => [piece.id, piece.values]));
  const items: Searchable[] = sessions.map(({ id, values }) => ({ session: id, texts: [values["title"], values["place"], values["day"], values["venue_kind"]?.replaceAll("_", " "), sellerNames.get(values["seller"])] }));
  for (const visit of visits.filter(kept)) {
    const piece = pieceById.get(visit.values["piece"]);
    const marks = (piece?.["marks"] ?? []) as { text: string }[];
    if (visit.values["session"]) items.push({ session: visit.values["session"], texts: [piece?.["title"], piece?.["type"]?.replaceAll("_", " "), piece?.["kind"], ...marks.map((mark) => mark.text)] });
  }
  const found = new Set(findSessions(query, items));
  return sessions.filter((session) => found.has(session.id));
}

export default function Sales() {
  const [query, setQuery] = useState("");
  const [pages, setPages] = useState(1);
  const sessions = useLive((store) => sessionsFound(store, query), [query]);
  const shown = sessions?.slice(0, pages * PAGE) ?? [];
  const none = sessions?.length === 0;
  const demo = useLive(async (store) => (await store.meta.get("space_name")) === DEMO_BOOK, []);
  return (
    <Screen title="Barnlight" keepPlace="sales"
      actions={<><Button kind="bare" icon="coin" label="Ledger: prices, wants, sellers" href="#/ledger" /><Button kind="bare" icon="gear" label="Device: this phone and its settings" href="#/device" /></>}
      foot={<Button wide kind="strong" icon="plus" href="#/new">New session</Button>}
    >
      {none && query === "" ? <Welcome /> : (
        <>
          <Resume />
          <div role="search"><TextField label="Find a sale or a piece" kind="search" placeholder="Name, mark, place, seller" value={query} onInput={(typed) => { setQuery(typed); setPages(1); }} /></div>
          {none && <p class="soft" role="status">Nothing holds all these words. Try fewer.</p>}
          <ul class="stack">{shown.map((session) => <SessionCard key={session.id} session={session} />)}</ul>
          {sessions && sessions.length > shown.length && <Button wide onClick={() => setPages(pages + 1)}>Older sessions ({sessions.length - shown.length})</Button>}
        </>
      )}
      {demo && <p class="soft small">These sales are invented, to try things out. For a book of your own start the server with <code>--own</code> and pair this phone again.</p>}
      <p class="row small"><a href="#/kit" class="next-look">My kit</a><a href="#/bench" class="next-look">Measure at the bench</a><a href="#/about" class="next-look">What this can and cannot tell you</a></p>
    </Screen>
  );
}

function Welcome() {
  return (
    <EmptyState icon="barn" title="Look before you buy" steps={[
      "Start a session when you stand at a table, or look at a listing.",
      "Add the camera, the lens or the holders, and take the five-minute pass.",
      "Read the line at the top: worth it or not, and what could still kill it.",
    ]}>
      <p class="soft">Open Barnlight in an ordinary window: a private one keeps nothing once it is closed.</p>
      <p class="soft">To see one that is done: start Barnlight with its demo on your computer, open the address it prints, and pair this phone under <a href="#/device">Device</a>. The demo sales come over by themselves.</p>
    </EmptyState>
  );
}
