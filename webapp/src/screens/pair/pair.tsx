// Pairing by the link or code that the server showed: one tap, and the phone's own book goes along.
import { useEffect, useState } from "preact/hooks";
import { useLive, useStore } from "../../store/live.ts";
import { DEMO_BOOK, pair } from "../../sync/pairing.ts";
import { ServerError } from "../../sync/server.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { TextField } from "../../ui/field.tsx";
import { ErrorNote, Waiting } from "../../ui/notes.tsx";
import { go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { showToast } from "../../ui/toast.tsx";

export default function Pair({ params }: ScreenInput) {
  const store = useStore();
  const known = useLive(async (s) => ({ author: (await s.meta.get("author")) ?? "", space: await s.meta.get("space_name"), paired: await s.meta.get("paired"), sessions: (await s.byKind("session")).length }), []);
  const [code, setCode] = useState(params["code"] ?? "");
  const [name, setName] = useState<string | null>(null);
  const [behind, setBehind] = useState<boolean | null>(null);
  const [working, setWorking] = useState(false);
  const [problem, setProblem] = useState<{ what: string; todo: string; device?: boolean } | null>(null);
  // A new code's link is often followed while the screen of the one that had run out still stands open.
  useEffect(() => {
    setCode(params["code"] ?? "");
    setProblem(null);
  }, [params["code"]]);
  if (known === undefined) return <Waiting />;
  const shownName = name ?? known.author;
  // A demo's invented sales have no place in a person's own book.
  const leaveBehind = behind ?? known.space === DEMO_BOOK;
  const mayLeave = known.paired !== undefined && known.sessions > 0;

  const join = async () => {
    const typed = code.replace(/[^a-z0-9]/gi, "");
    if (typed.length !== 8) return setProblem({ what: "A pairing code has eight letters and figures.", todo: "The server prints one when it starts, and “barnlight pair” on its computer makes a new one." });
    if (shownName.trim() === "") return setProblem({ what: "This phone has no name yet.", todo: "Type a name by which the others in this book know you or this phone." });
    setWorking(true);
    setProblem(null);
    try {
      const space = await pair(store, `${typed.slice(0, 4)}-${typed.slice(4)}`, shownName.trim(), mayLeave && leaveBehind);
      showToast({ words: `This phone now shares “${space}”` });
      go("#/device", { replace: true });
    } catch (error) {
      if (error instanceof ServerError) setProblem({ what: error.message, todo: error.hint ?? "Nothing on this phone was changed. Try again in a moment." });
      else if (error instanceof RangeError) setProblem({ what: "Some of the present book is on this phone alone.", todo: "It would be lost. Let it reach its server first, save it to a file under Device, or take it along.", device: true });
      else setProblem({ what: "This phone could not be paired.", todo: `${error instanceof Error ? error.message : "Try again."} Nothing on it was lost.` });
    }
    setWorking(false);
    return undefined;
  };

  return (
    <Screen title="Pair this phone" back="#/device" foot={<Button kind="strong" wide disabled={working} onClick={() => void join()}>{working ? "Pairing…" : "Pair"}</Button>}>
      <p>Paired, this phone sends its book to the server at <strong>{location.host}</strong> whenever it is in reach, and gets what the others in the same book add. Nothing ever waits for it.</p>
      {known.paired && <p class="soft">It is paired already{known.space ? `, with “${known.space}”` : ""}. Pair again if the server no longer knows it.</p>}
      <TextField label="Code" hint="Printed by the server when it starts; a phone that is in shows one under Device, Let another phone in" value={code} max={12} placeholder="ABCD-EFGH" onInput={setCode} />
      <TextField label="Name of this phone or person" hint="Stands beside your edits in the shared book; never in a report" value={shownName} max={80} onInput={setName} />
      {mayLeave && (
        <BigChoice legend={`What becomes of ${known.space ? `“${known.space}”` : "the present book"} on this phone, if the code is for another book?`} oneColumn value={leaveBehind ? "leave" : "take"}
          options={[{ value: "leave", label: "Leave it behind", hint: "It stays on its server; this phone starts empty" }, { value: "take", label: "Take it along", hint: "All of it goes into the other book too" }]}
          onChoose={(choice) => setBehind(choice === "leave")} />
      )}
      {problem && <ErrorNote what={problem.what} todo={problem.todo}>{problem.device && <div class="row"><Button href="#/device">Device</Button></div>}</ErrorNote>}
    </Screen>
  );
}
