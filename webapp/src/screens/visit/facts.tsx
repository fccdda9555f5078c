// What the piece is: name, marks as read, format, shutter or holders, what comes with it, and the asking price.
import type { Catalogue } from "../../domain/catalogue.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField } from "../../ui/field.tsx";
import { SavedField } from "../../ui/saved_field.tsx";
import { address } from "../../ui/route.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { type Content, ContentsField } from "./contents_field.tsx";
import { HolderFacts } from "./holder_facts.tsx";
import { MarksField, type MarkText } from "./marks_field.tsx";
import { MoneyField } from "./money_field.tsx";
import { PartsOnly } from "./parts_only.tsx";
import { typeTitle } from "./piece_title.ts";
import { ScreenStackField, type Surface } from "./screen_stack_field.tsx";
import { ShutterFacts } from "./shutter_facts.tsx";
import type { VisitView } from "./view.ts";
import { VisitFacts } from "./visit_facts.tsx";

const NAME_AND_PRICE = "name-and-price";

/** Unfolds the part that holds the asking price and puts the hand into its field. */
export function openAskingPrice(): void {
  const fold = document.getElementById(NAME_AND_PRICE);
  if (!(fold instanceof HTMLDetailsElement)) return;
  fold.open = true;
  fold.querySelector<HTMLInputElement>(".money input")?.focus();
}

/** Saves fields of the piece; a failure is told with a way to try again. */
export type SetPiece = (fields: Record<string, unknown>) => void;

/** Saves one field made from what it holds by then, for lists that are tapped at faster than they are drawn. */
export type ChangePiece = <T>(field: string, make: (held: T | undefined) => T) => void;

export function Facts({ view, catalogue }: { view: VisitView; catalogue: Catalogue }) {
  const store = useStore();
  const { piece, visit } = view;
  const { values } = piece;
  const put = (kind: string, id: string, fields: Record<string, unknown>) => {
    store.set(kind, id, fields).catch((error: unknown) => tellFailure(error, () => put(kind, id, fields)));
  };
  const setPiece: SetPiece = (fields) => put("piece", piece.id, fields);
  const changePiece: ChangePiece = (field, make) => {
    store.change("piece", piece.id, field, make).catch((error: unknown) => tellFailure(error, () => changePiece(field, make)));
  };
  const changeList = <T,>(field: string) => (make: (held: readonly T[]) => readonly T[]) => changePiece<readonly T[]>(field, (held) => make(held ?? []));
  const takeOff = () => {
    put("visit", visit.id, { deleted: true });
    showToast({ words: `Piece ${visit.values["tag"]} taken off`, undo: () => put("visit", visit.id, { deleted: false }) });
  };
  const types = (catalogue.terms.piece_types as Record<string, readonly { id: string; title: string }[]>)[values["kind"]] ?? [];
  return (
    <section class="stack" aria-labelledby="facts">
      <h2 id="facts">What it is</h2>
      <Versions record={piece.id} fields={["title", "kind", "type", "format"]} />
      <Versions record={visit.id} fields={["asking"]} />
      <details class="fold" id={NAME_AND_PRICE}>
        <summary><span class="grow">Name, type, format, asking price</span></summary>
        <div class="inside stack">
          <SavedField label="Name" hint={`Left empty it is called “${typeTitle(values["kind"], values["type"])}”.`} saved={values["title"] ?? ""} max={120} onSave={(title) => setPiece({ title: title.trim() })} />
          <PickField label="Type" value={values["type"] ?? ""} options={[{ value: "", label: "Not known yet" }, ...types.map((type) => ({ value: type.id, label: type.title }))]} onPick={(type) => setPiece({ type: type || null })} />
          <PickField label="Format" value={values["format"] ?? ""} options={[{ value: "", label: "Not known yet" }, ...catalogue.formats.map((one) => ({ value: one.id, label: one.title }))]} onPick={(format) => setPiece({ format: format || null })} />
          <MoneyField label="Asking price of this piece" saved={visit.values["asking"] ?? null} onSave={(asking) => put("visit", visit.id, { asking })} />
        </div>
      </details>
      <Versions record={piece.id} fields={["marks"]} />
      <MarksField saved={values["marks"] ?? []} onChange={changeList<MarkText>("marks")} />
      <Versions record={piece.id} fields={["shutter_kind", "speeds", "holders", "screen_stack"]} />
      {values["kind"] === "lens" && values["type"] !== "barrel" && <ShutterFacts piece={values} catalogue={catalogue} setPiece={setPiece} />}
      {values["kind"] === "holders" && <HolderFacts piece={values} catalogue={catalogue} changePiece={changePiece} />}
      {values["kind"] === "camera" && <ScreenStackField saved={values["screen_stack"] ?? []} catalogue={catalogue} onChange={changeList<Surface>("screen_stack")} />}
      <Versions record={piece.id} fields={["comes_with"]} />
      <ContentsField key={piece.id} piece={piece.id} saved={values["comes_with"] ?? []} onChange={changeList<Content>("comes_with")} />
      <VisitFacts key={visit.id} view={view} setVisit={(fields) => put("visit", visit.id, fields)} />
      <Versions record={piece.id} fields={["parts_only", "note", "deleted"]} />
      <PartsOnly saved={values["parts_only"] ?? null} onSave={(parts_only) => setPiece({ parts_only })} />
      <Button icon="clock" href={address("/visit", visit.id, "/history")}>History of this piece</Button>
      <TakeOff onTakeOff={takeOff} session={view.session?.id} />
    </section>
  );
}

function TakeOff({ onTakeOff, session }: { onTakeOff: () => void; session: string | undefined }) {
  return <Button kind="danger" icon="bin" href={session ? `#/session/${session}` : "#/"} onClick={onTakeOff}>Take this piece off the session</Button>;
}
