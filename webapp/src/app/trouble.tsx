// What a person must know before they go on: storage that is gone, full or passing, an unsafe address, an app too old, an update.
import { useState } from "preact/hooks";
import { useLive, useStore } from "../store/live.ts";
import { Button } from "../ui/button.tsx";
import { ErrorNote, Note } from "../ui/notes.tsx";
import { tellFailure } from "../ui/tell_failure.ts";
import { clearedWords } from "./kept_mark.ts";
import { privateWindow } from "./private_window.ts";
import { storageTrouble } from "./storage_state.ts";
import { takeUpdate, updateReady } from "./update.ts";

export function Trouble() {
  const [secure] = useState(() => window.isSecureContext);
  const trouble = storageTrouble.value;
  return (
    <>
      {!secure && <Note tone="care" title="This address is not secure."><p>Without HTTPS a phone gives no microphone and keeps no copy of the app for when there is no signal. Open Barnlight by its https address. Has it none yet? Start it on its computer with --https: that shows a page which leads this phone through.</p></Note>}
      {trouble && <ErrorNote what={trouble.what} todo={trouble.todo}>{trouble.room && <div class="row"><Button href="#/room">See what can be let go</Button><Button href="#/device">Device</Button></div>}</ErrorNote>}
      <Cleared />
      {privateWindow.value && <Note tone="care" title="This looks like a private window."><p>Nothing is kept once it is closed. Open Barnlight in an ordinary window, or pair it with a server before you begin.</p></Note>}
      <Newer />
      {updateReady.value && <Note tone="tell" title="A new version is on the phone."><div class="row"><Button onClick={takeUpdate}>Change to it now</Button></div></Note>}
    </>
  );
}

function Cleared() {
  const store = useStore();
  const read = useLive(async (from) => ({ cleared: await from.meta.get("cleared"), paired: await from.meta.get("paired") }), []);
  if (!read?.cleared || (read.paired && read.cleared.paired)) return null;
  const { what, todo } = clearedWords(read.cleared);
  const done = () => { store.meta.set("cleared", undefined).catch((error: unknown) => tellFailure(error)); };
  return (
    <ErrorNote what={what} todo={todo}>
      <div class="row">
        {read.cleared.paired && <Button kind="strong" href="#/pair">Pair again</Button>}
        <Button href="#/device">Device</Button>
        <Button kind="quiet" onClick={done}>Begin anew</Button>
      </div>
    </ErrorNote>
  );
}

/** Edits of a newer app wait in the history until this one has caught up. */
function Newer() {
  const count = useLive(async (from) => (await from.meta.get("newer"))?.length ?? 0, []);
  if (!count) return null;
  return (
    <Note tone="care" title="This Barnlight is older than another phone's.">
      <p>{count === 1 ? "1 edit" : `${count} edits`} made there cannot be shown here yet; kept and passed on all the same. Open Barnlight where there is a signal, and change to the new version when it asks.</p>
    </Note>
  );
}
