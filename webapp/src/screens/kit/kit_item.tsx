// One thing of the kit: its name and the figures that fit hangs on, saved as they are typed; and what else of the kit it goes with.
import { useState } from "preact/hooks";
import type { Catalogue, Measure } from "../../domain/catalogue.ts";
import { type LengthUnit, parseLength, plausible, showLength } from "../../domain/lengths.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { go } from "../../ui/route.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { Missing } from "../visit/missing.tsx";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { kept } from "../visit/view.ts";
import { FitList } from "./fit_list.tsx";
import { askedOf, choicesOf, KINDS } from "./kit_words.ts";
import { kitThing, type NamedThing, NOT_NAMED, useKit } from "./things.ts";

export default function KitItem({ params }: ScreenInput) {
  const id = params["item"]!;
  const item = useLive(async (store) => {
    const record = await store.get(id);
    return record?.kind === "kit_item" && kept(record) ? kitThing(record) : null;
  }, [id]);
  const catalogue = useCatalogue();
  const unit = useLive(async (from) => (await from.meta.get("unit")) ?? "mm", []);
  const kit = useKit();
  if (item === null) return <Missing what="thing" />;
  if (!item || !catalogue || !unit || !kit) return <Waiting />;
  return <Thing key={id} item={item} catalogue={catalogue} unit={unit} others={kit.filter((one) => one.id !== id)} />;
}

function Thing({ item, catalogue, unit, others }: { item: NamedThing; catalogue: Catalogue; unit: LengthUnit; others: readonly NamedThing[] }) {
  const store = useStore();
  const set = (fields: Record<string, unknown>) => { store.set("kit_item", item.id, fields).catch((error: unknown) => tellFailure(error, () => set(fields))); };
  // All figures are one field, and the next is often typed before the last is drawn.
  const setFact = (fact: string, value: number | string | null) => {
    store.change<Record<string, unknown>>("kit_item", item.id, "facts", (held) => ({ ...held, [fact]: value })).catch((error: unknown) => tellFailure(error, () => setFact(fact, value)));
  };
  const remove = () => {
    store.remove("kit_item", item.id).then(() => {
      go("#/kit");
      showToast({ words: `${item.title} is out of the kit.`, undo: () => set({ deleted: false }) });
    }, (error: unknown) => tellFailure(error, remove));
  };
  return (
    <Screen title={item.title} over={`My kit, ${KINDS.find(({ id }) => id === item.kind)?.title.toLowerCase() ?? "thing"}`} back="#/kit" backWord="Back to the kit">
      <Versions record={item.id} />
      <SavedField label="What you call it" max={120} saved={item.title === NOT_NAMED ? "" : item.title} onSave={(title) => set({ title: title.trim() })} />
      {askedOf(item.kind, catalogue).map((measure) => measure.unit === "term"
        ? <PickField key={measure.id} label={measure.title} hint={measure.hint ?? undefined} value={String(item.facts[measure.id] ?? "")} options={[{ value: "", label: "Not known" }, ...choicesOf(measure, catalogue)]} onPick={(value) => setFact(measure.id, value || null)} />
        : <LengthFact key={`${measure.id} ${unit} ${item.facts[measure.id] ?? ""}`} measure={measure} mm={(item.facts[measure.id] as number | null | undefined) ?? null} unit={unit} onFact={(mm) => setFact(measure.id, mm)} />)}
      <section class="stack tight" aria-labelledby="within">
        <h2 id="within">Within my kit</h2>
        <FitList thing={item} others={others} catalogue={catalogue} unit={unit} />
      </section>
      <Button kind="danger" icon="cross" onClick={remove}>Take it out of the kit</Button>
    </Screen>
  );
}

function LengthFact({ measure, mm, unit, onFact }: { measure: Measure; mm: number | null; unit: LengthUnit; onFact: (mm: number | null) => void }) {
  const [text, setText] = useState(mm === null ? "" : showLength(mm, unit).replace(/ (mm|in)$/, ""));
  const [asked, setAsked] = useState<{ words: string; likely?: LengthUnit; mm?: number } | null>(null);
  const done = (typed: string) => {
    setAsked(null);
    if (typed.trim() === "") {
      if (mm !== null) onFact(null);
      return;
    }
    try {
      const found = parseLength(typed, unit);
      const doubt = plausible(measure, found);
      if (doubt) setAsked({ words: doubt.message, likely: doubt.likely_unit, mm: found });
      else onFact(found);
    } catch (error) {
      setAsked({ words: (error as Error).message });
    }
  };
  const keep = (value: number) => { setAsked(null); onFact(value); };
  return (
    <div class="stack tight">
      <TextField label={`${measure.title} (${unit === "in" ? "inch" : "mm"})`} hint={measure.hint ?? undefined} keyboard={unit === "mm" ? "decimal" : "text"} max={40} value={text} wrong={asked?.words} onInput={setText} onDone={done} />
      {asked?.likely && <Button onClick={() => keep(parseLength(text, asked.likely!))}>It was {asked.likely === "in" ? "inches" : "millimetres"}</Button>}
      {asked?.mm !== undefined && <Button onClick={() => keep(asked.mm!)}>Keep it as typed</Button>}
    </div>
  );
}
