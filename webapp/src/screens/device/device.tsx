// Device: who this phone is, how it shows things, how safe its book is, and who else shares it.
import { useEffect, useState } from "preact/hooks";
import { askToPersist, storageFacts, type StorageFacts } from "../../device/persist.ts";
import { isBackupDue } from "../../domain/backup_due.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { MetaFacts } from "../../store/meta.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { SavedField } from "../../ui/saved_field.tsx";
import { Screen } from "../../ui/screen.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { status, syncNow } from "../../sync/engine.ts";
import { bareWords } from "../../sync/status.ts";
import { ApartInBook } from "../history/apart.tsx";
import { sizeWords } from "../room/room_facts.ts";
import { BookFile } from "./book_file.tsx";
import { Devices } from "./devices.tsx";
import { Refusals } from "./refusals.tsx";

export default function Device() {
  const store = useStore();
  const facts = useLive(async (s) => ({
    author: await s.meta.get("author"), unit: await s.meta.get("unit"), theme: await s.meta.get("theme"),
    paired: await s.meta.get("paired"), space: await s.meta.get("space_name"), unsaved: await s.meta.get("unsaved_since"), backup: await s.meta.get("last_backup_ms"),
  }), []);
  if (facts === undefined) return <Screen title="Device" over="This phone and its settings" back="#/"><Waiting /></Screen>;
  const inFile = status.value.state === "alone" && facts.unsaved === undefined && facts.backup !== undefined;
  const keep = <K extends keyof MetaFacts>(key: K, value: MetaFacts[K]) => { store.meta.set(key, value).catch((error: unknown) => tellFailure(error)); };

  return (
    <Screen title="Device" over="This phone and its settings" back="#/" backWord="Back to the sales">
      <section class="stack" aria-label="The book">
        <h2>Is the book safe?</h2>
        <p>{inFile ? `On this phone, and in the file saved on ${when(facts.backup!)}` : bareWords(status.value)}.{status.value.last_ms !== null && ` Last asked ${new Date(status.value.last_ms).toLocaleTimeString(undefined, { hour: "2-digit", minute: "2-digit" })}.`}</p>
        {status.value.state === "paused" && (
          <Note tone="care" title="The server does not know this phone any more.">
            <p>It was shut out, or the server began anew. All that is on this phone stays, and goes over once it is paired again.</p>
            <Button kind="strong" href="#/pair">Pair again</Button>
          </Note>
        )}
        {status.value.why !== null && <Note tone="care" title="What the server said"><p>{status.value.why}</p></Note>}
        <Unsaved since={facts.unsaved} paired={facts.paired !== undefined} />
        {facts.backup !== undefined && !inFile && <p class="soft">Last saved to a file {when(facts.backup)}.</p>}
        {facts.paired ? <Button icon="move" onClick={syncNow}>Ask the server now</Button> : <Button kind="strong" href="#/pair">Pair with a server</Button>}
        <Lasting />
        <Button href="#/room">Room on this phone</Button>
        <BookFile />
        <ApartInBook />
        <Refusals />
      </section>
      <section class="stack" aria-label="How it shows things">
        <h2>How it shows things</h2>
        <SavedField label="Your name in this book" hint="Beside your edits for others who share it; never in a report" saved={facts.author ?? ""} max={80} onSave={(name) => keep("author", name.trim())} />
        <BigChoice legend="Lengths in" value={facts.unit ?? "mm"} options={[{ value: "mm", label: "Millimetres" }, { value: "in", label: "Inches" }]} onChoose={(unit) => keep("unit", unit)} />
        <BigChoice legend="Colours" value={facts.theme ?? "auto"} options={[{ value: "auto", label: "As the phone" }, { value: "light", label: "Light, for sun" }, { value: "dark", label: "Dark, for barns" }]} onChoose={(theme) => keep("theme", theme)} />
      </section>
      {facts.paired && (
        <section class="stack" aria-label="Who shares this book">
          <h2>Who shares {facts.space ? `“${facts.space}”` : "this book"}</h2>
          <Devices />
          {status.value.state !== "paused" && <Button href="#/pair">Pair again</Button>}
        </section>
      )}
      <Button href="#/about" icon="info">What Barnlight can and cannot do</Button>
    </Screen>
  );
}

const when = (ms: number) => new Date(ms).toLocaleDateString(undefined, { day: "numeric", month: "long", year: "numeric" });

/** That edits lie on this phone alone: a caution once they have for a day; before that a plain word, and none where they are about to be sent. */
function Unsaved({ since, paired }: { since: number | undefined; paired: boolean }) {
  const store = useStore();
  if (since === undefined) return null;
  if (isBackupDue(since, store.nowMs())) return <Note tone="care"><p>Not backed up since {when(since)}. Pair with a server, or save everything to one file.</p></Note>;
  return paired ? null : <p class="soft">A second copy is made by pairing with a server, or by saving everything to one file.</p>;
}

/** Whether the browser may clear this book by itself, and the one tap that asks it not to. */
function Lasting() {
  const [facts, setFacts] = useState<StorageFacts | null>(null);
  const read = () => { storageFacts().then(setFacts, () => undefined); };
  useEffect(read, []);
  if (!facts) return null;
  const used = facts.used_bytes === null ? "" : ` The book takes ${sizeWords(facts.used_bytes)}${facts.quota_bytes ? ` of ${sizeWords(facts.quota_bytes)} that the browser allows` : ""}.`;
  if (facts.persisted) return <p class="soft">The browser keeps this book until you remove it.{used}</p>;
  return (
    <>
      <p>The browser may clear this book when room is short or when the page was not opened for a week. Put Barnlight on the home screen. A private window keeps nothing once it is closed.{used}</p>
      <Button onClick={() => { askToPersist().then(read, () => undefined); }}>Ask the browser to keep it</Button>
    </>
  );
}
