// Erasing a sale or a seller everywhere: first the list of what would go and what stays, then a held button; there is no way back.
import { useEffect, useState } from "preact/hooks";
import type { Erasable } from "../../store/erase_here.ts";
import { useLive, useStore } from "../../store/live.ts";
import { ServerError } from "../../sync/server.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorNote, Note, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { sessionTitle } from "../session/session_title.ts";
import { sizeWords } from "../room/room_facts.ts";
import { Missing } from "../visit/missing.tsx";
import "./erase.css";
import { HoldButton } from "./hold_button.tsx";
import { countWords, erase, wouldGo, type Told } from "./told.ts";

type Asked = { told: Told } | { what: string; todo: string } | null;

const said = (error: unknown): { what: string; todo: string } => (error instanceof ServerError
  ? { what: error.unreachable ? "The server cannot be reached, and only it can erase everywhere." : error.message, todo: error.unreachable ? "Nothing was erased. Come back when there is a signal." : error.hint ?? "Nothing was erased. Try again." }
  : { what: "This could not be looked up.", todo: "Nothing was erased. Try again." });

export default function Erase({ params }: ScreenInput) {
  const kind: Erasable = params["session"] ? "session" : "seller";
  const id = (params["session"] ?? params["seller"])!;
  const store = useStore();
  const [asked, setAsked] = useState<Asked>(null);
  const [turn, setTurn] = useState(0);
  const [working, setWorking] = useState(false);
  const read = useLive(async (from) => ({ record: (await from.get(id)) ?? null, paired: await from.meta.get("paired") }), [id]);
  useEffect(() => {
    setAsked(null);
    wouldGo(store, kind, id).then((told) => setAsked({ told }), (error: unknown) => setAsked(said(error)));
  }, [kind, id, turn]);
  if (read === undefined) return <Waiting />;
  // Gone while it stood here: the erasing itself, or another phone's.
  if (read.record === null) return <Missing what={kind} />;

  const title = kind === "session" ? sessionTitle(read.record) : read.record.values["name"] || "Seller";
  const doIt = () => {
    setWorking(true);
    erase(store, kind, id).then(() => {
      go("#/", { replace: true });
      showToast({ words: `${title}: erased for good` });
    }, (error: unknown) => {
      setWorking(false);
      if (error instanceof ServerError) setAsked(said(error));
      else tellFailure(error, doIt);
    });
  };
  return (
    <Screen title={kind === "session" ? "Erase this sale" : "Erase this seller"} over={title} back={address(`/${kind}`, id)}>
      <Note tone="bad" title="This cannot be undone."><p>“Take off” keeps a thing in the history and can be undone. Erasing removes it and its history from {read.paired ? "the server and every phone of this book" : "this phone"}.</p></Note>
      {asked === null && <Waiting words="Looking up what would go" />}
      {asked && "what" in asked && <ErrorNote what={asked.what} todo={asked.todo}><div class="row"><Button onClick={() => setTurn(turn + 1)}>Ask again</Button></div></ErrorNote>}
      {asked && "told" in asked && (
        <>
          <Goes told={asked.told} />
          <Stays told={asked.told} paired={Boolean(read.paired)} />
          <HoldButton words={working ? "Erasing…" : "Hold to erase for good"} disabled={working} onHeld={doIt} />
          <Button wide href={address(`/${kind}`, id)}>Keep it</Button>
        </>
      )}
    </Screen>
  );
}

function Goes({ told }: { told: Told }) {
  return (
    <section class="stack tight" aria-labelledby="goes">
      <h2 id="goes">What would go</h2>
      <ul class="stack tight">
        {countWords(told.records).map((words) => <li key={words}>{words}</li>)}
        {told.media > 0 && <li>{told.media === 1 ? "1 photo or sound file" : `${told.media} photo and sound files`}, {sizeWords(told.media_bytes)}</li>}
        {told.reports.map((report) => <li key={`${report.title} ${report.version}`}>Report “{report.title}”, version {report.version}</li>)}
        {told.links > 0 && <li>{told.links === 1 ? "1 link to a report: whoever has it finds it closed" : `${told.links} links to reports: whoever has one finds it closed`}</li>}
        <li class="soft">{told.changes === 1 ? "1 edit" : `${told.changes} edits`} of history</li>
      </ul>
    </section>
  );
}

function Stays({ told, paired }: { told: Told; paired: boolean }) {
  return (
    <section class="stack tight" aria-labelledby="stays">
      <h2 id="stays">What stays</h2>
      <ul class="stack tight">
        {told.stays.map((sale) => <li key={sale.id}>The sale “{sale.title || "without a name"}”, without its seller. If its own words name them, change those yourself.</li>)}
        <li>Files you saved or handed on, PDFs and prints: nothing can call them back.</li>
        {paired && <li>Backups of the server, until one is put back: the server then erases this again by its list. A phone that never asks the server again keeps its copy.</li>}
      </ul>
    </section>
  );
}
