// Everything said differently by people who did not know of each other, of one piece or of the whole book, to be picked in one go.
import { useEffect, useState } from "preact/hooks";
import { apartFields, type ApartField } from "../../store/apart.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { StoredRecord } from "../../store/shape.ts";
import type { Store } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { EmptyState, Note, Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { recordAddress, recordTitle } from "./record_words.ts";
import { Choice } from "./versions.tsx";

interface Found { apart: ApartField[]; records: Map<string, StoredRecord> }

/** All there is on this phone, in one reading: for screens that a person opens on purpose. */
async function inBook(store: Store): Promise<Found> {
  const apart = apartFields(await store.read((db) => db.getAll("changes")));
  const records = await store.read((db) => Promise.all(apart.map((one) => db.get("records", one.record))));
  return { apart, records: new Map(records.flatMap((record) => (record ? [[record.id, record] as const] : []))) };
}

async function ofPiece(store: Store, visit: string): Promise<Found> {
  const piece = (await store.get(visit))?.values["piece"] as string | undefined;
  const { records, changes } = piece ? await store.family(piece) : { records: [], changes: [] };
  return { apart: apartFields(changes), records: new Map(records.map((record) => [record.id, record])) };
}

export default function Apart({ params }: ScreenInput) {
  const visit = params["visit"];
  const store = useStore();
  const catalogue = useCatalogue();
  const [turn, setTurn] = useState(0);
  useEffect(() => store.subscribe(() => setTurn((before) => before + 1)), [store]);
  const [found, setFound] = useState<Found | null>(null);
  useEffect(() => {
    let wanted = true;
    (visit ? ofPiece(store, visit) : inBook(store)).then((now) => { if (wanted) setFound(now); }, (error: unknown) => console.error(error));
    return () => { wanted = false; };
  }, [visit, turn]);
  const back = visit ? address("/visit", visit) : "#/device";
  if (!found || !catalogue) return <Screen title="Said differently" back={back}><Waiting /></Screen>;
  return (
    <Screen title="Said differently" back={back}>
      {found.apart.length === 0
        ? <EmptyState icon="tick" title="Everybody agrees" steps={["When two phones change the same thing without knowing of each other, both versions are kept.", "They are listed here until somebody picks; the other stays in the history."]} />
        : <p class="soft">Two phones changed these without knowing of each other. Pick what holds; the other stays in the history.</p>}
      {found.apart.map((apart) => {
        const record = found.records.get(apart.record);
        const to = record && recordAddress(record);
        return (
          <div key={`${apart.record} ${apart.field}`} class="stack tight">
            <Choice apart={apart} of={record && recordTitle(record, catalogue)} check={record?.fields["check"]?.value as string | undefined} />
            {to && <p><a href={to}>Open it</a></p>}
          </div>
        );
      })}
    </Screen>
  );
}

/** At the top of a piece: how much of it, or of its checks and photos, waits for a choice. */
export function ApartOfPiece({ visit, piece }: { visit: string; piece: string }) {
  const count = useLive(async (from) => apartFields((await from.family(piece)).changes).length, [piece]);
  return <ApartNote count={count} href={address("/visit", visit, "/apart")} />;
}

/** The same for the whole book. */
export function ApartInBook() {
  const store = useStore();
  const [count, setCount] = useState(0);
  useEffect(() => { inBook(store).then(({ apart }) => setCount(apart.length), () => undefined); }, [store]);
  return <ApartNote count={count} href="#/apart" />;
}

function ApartNote({ count, href }: { count: number | undefined; href: string }) {
  if (!count) return null;
  return (
    <Note tone="care">
      <p>{count === 1 ? "One thing was" : `${count} things were`} said differently on two phones.</p>
      <div class="row"><Button href={href}>See and pick</Button></div>
    </Note>
  );
}
