// Noting a price quickly: what stays the same from one to the next is remembered until the screen is left, what is not saved yet for good.
import { useEffect, useRef, useState } from "preact/hooks";
import { type Money, parseMoney } from "../../domain/money.ts";
import { CURRENCY_CODES, type DraftNote, noteProblems } from "../../domain/price_text.ts";
import { useStore } from "../../store/live.ts";
import type { MetaFacts } from "../../store/meta.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { useHabits } from "../ledger/habits.ts";
import { today } from "../visit/today.ts";
import { NoteFields } from "./note_fields.tsx";
import { useGroups } from "./notes.ts";
import { moneyWords } from "./words.ts";

/** Currencies to pick from, the usual one first. */
export const currencyOptions = (usual: string) => [...new Set([usual, ...CURRENCY_CODES])].map((code) => ({ value: code, label: code }));

type Draft = MetaFacts["price_draft"];
type Given = DraftNote & { venue_kind?: string };

/** `what`, `group` and `day` in the address fill the fields, as from a want that turned up. */
export default function AddPrice({ query }: ScreenInput) {
  const [habits, groups] = [useHabits(), useGroups()];
  const store = useStore();
  const [draft, setDraft] = useState<Draft | null | undefined>(undefined);
  useEffect(() => { store.meta.get("price_draft").then((kept) => setDraft(kept ?? null), () => setDraft(null)); }, []);
  const { what = "", group = "", day = today() } = query;
  if (!habits || !groups || draft === undefined) return <Screen title="Note a price" back="#/prices"><Waiting /></Screen>;
  return <Entry key={`${what} ${group}`} given={{ what, group, day, sold: true, state: "unknown" }} draft={what ? null : draft} groups={groups} usual={habits.currency} />;
}

function Entry({ given, draft, groups, usual }: { given: Given; draft: Draft | null; groups: readonly string[]; usual: string }) {
  const store = useStore();
  const group = given.group ?? "";
  const [note, setNote] = useState<Given>(draft ? { ...given, ...draft.note } : given);
  const [amount, setAmount] = useState(draft?.amount ?? "");
  const [currency, setCurrency] = useState(draft?.currency ?? usual);
  const [wrong, setWrong] = useState<{ price: string | null; rest: readonly string[] }>({ price: null, rest: [] });
  const [restored, setRestored] = useState(draft !== null);
  const change = (changed: object) => setNote({ ...note, ...changed });
  const begun = Boolean(note.what || note.note || amount);
  const opened = useRef(true);
  // A phone may be dropped before the price is saved.
  useEffect(() => {
    if (opened.current) opened.current = false; // Nothing was typed here yet.
    else store.meta.set("price_draft", begun ? { note, amount, currency } : undefined).catch((error: unknown) => tellFailure(error));
  }, [note, amount, currency]);
  const empty = () => { setNote(given); setAmount(""); setRestored(false); };

  const save = () => {
    let price: Money;
    try {
      price = parseMoney(amount, currency);
    } catch (error) {
      setWrong({ price: (error as Error).message, rest: [] });
      return;
    }
    const whole = { ...note, what: note.what!.trim(), group: note.group!.trim(), price };
    const rest = noteProblems(whole, today());
    setWrong({ price: null, rest });
    if (rest.length > 0) return;
    store.create("price_note", whole).then((id) => {
      change({ what: "", group: whole.group, note: "", included: undefined });
      setAmount("");
      setRestored(false);
      void store.meta.set("currency", currency);
      showToast({ words: `Noted: ${whole.what}, ${moneyWords(price)}`, undo: () => { store.remove("price_note", id).catch((error: unknown) => tellFailure(error)); } });
    }, (error: unknown) => tellFailure(error, save));
  };

  return (
    <Screen title="Note a price" back={group ? address("/prices/group", { name: group }) : "#/prices"} backWord="Back to the prices"
      foot={<Button wide kind="strong" icon="tick" onClick={save}>Save this price</Button>}>
      {restored && <Note tone="tell" title="Typed before and not saved yet."><div class="row"><Button onClick={empty}>Empty the fields</Button></div></Note>}
      {wrong.rest.length > 0 && <Note tone="bad" alert title="Not saved yet">{wrong.rest.map((one) => <p key={one}>{one}</p>)}</Note>}
      <TextField label="What was it?" max={120} value={note.what ?? ""} onInput={(what) => change({ what })} />
      <div class="money-room"><div class="money">
        <TextField label="Price" keyboard="decimal" max={20} value={amount} wrong={wrong.price} onInput={setAmount} />
        <PickField label="Currency" value={currency} options={currencyOptions(usual)} onPick={setCurrency} />
      </div></div>
      <TextField label="Group" hint="Like things under one name; their usual price is told together" max={80} suggestions={groups} value={note.group ?? ""} onInput={(named) => change({ group: named })} />
      <TextField label="Day" kind="date" value={note.day ?? ""} onInput={(day) => change({ day })} />
      <NoteFields note={{ ...note, sold: note.sold ?? undefined, state: note.state ?? undefined }} onPick={change} />
      <TextField label="Note" lines max={4000} value={note.note ?? ""} onInput={(words) => change({ note: words })} />
    </Screen>
  );
}
