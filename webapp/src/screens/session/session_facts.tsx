// The session's own facts: name, place, day, lot price and a private note; each is saved as it is typed.
import { useState } from "preact/hooks";
import { useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { address, go } from "../../ui/route.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { MoneyField } from "../visit/money_field.tsx";
import { sessionTitle } from "./session_title.ts";

export function SessionFacts({ session }: { session: Rec }) {
  const store = useStore();
  const { id, values } = session;
  const put = (fields: Record<string, unknown>) => {
    store.set("session", id, fields).catch((error: unknown) => tellFailure(error, () => put(fields)));
  };
  const [saving, setSaving] = useState(false);
  const save = async () => {
    setSaving(true);
    await (await import("../device/save_file.ts")).saveFile(store, { id, title: sessionTitle(session) });
    setSaving(false);
  };
  const takeOff = () => {
    put({ deleted: true });
    showToast({ words: "Session taken off", undo: () => put({ deleted: false }) });
    go("#/");
  };
  return (
    <details class="fold">
      <summary><span class="grow">About this session</span><span class="soft small">private</span></summary>
      <div class="inside stack">
        <SavedField label="Name" saved={values["title"] ?? ""} max={120} onSave={(title) => put({ title })} />
        <SavedField label="Place" saved={values["place"] ?? ""} max={200} onSave={(place) => put({ place })} />
        <SavedField label="Day" kind="date" saved={values["day"] ?? ""} max={10} onSave={(day) => { if (day) put({ day }); }} />
        <MoneyField label="Price for the whole lot" saved={values["asking"] ?? null} onSave={(asking) => put({ asking })} />
        <SavedField label="Private note" lines saved={values["note"] ?? ""} max={4000} onSave={(note) => put({ note })} />
        <Button icon="box" disabled={saving} onClick={() => void save()}>{saving ? "Packing…" : "Save this session to one file"}</Button>
        <Button kind="danger" icon="bin" onClick={takeOff}>Take this session off</Button>
        <Button kind="danger" href={address("/session", id, "/erase")}>Erase it everywhere, for good</Button>
      </div>
    </details>
  );
}
