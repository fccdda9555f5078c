// What surrounds every screen: the sync line, what is wrong with storage or security, the offer of an update, and short words.
import { useEffect, useState } from "preact/hooks";
import { useLive, useStore } from "../store/live.ts";
import { rememberAddress } from "../screens/visit/left_at.ts";
import { Button } from "../ui/button.tsx";
import { look } from "../ui/look.ts";
import { ErrorNote, Note } from "../ui/notes.tsx";
import { here } from "../ui/route.ts";
import { Screen } from "../ui/screen.tsx";
import { Toasts } from "../ui/toast.tsx";
import { LazyScreen } from "./lazy_screen.tsx";
import { findRoute } from "./routes.ts";
import { storageTrouble } from "./storage_state.ts";
import { SyncLine } from "./sync_line.tsx";
import { takeUpdate, updateReady } from "./update.ts";

export function Frame() {
  const { path, query } = here.value;
  const found = findRoute(path);
  const store = useStore();
  const theme = useLive((from) => from.meta.get("theme"), []);
  useEffect(() => { if (theme) look.value = theme; }, [theme]);
  useEffect(() => { rememberAddress(store, path, query).catch(() => undefined); }, [path, query]);
  return (
    <>
      <a class="skip-link" href="#main" onClick={(event) => { event.preventDefault(); document.querySelector<HTMLElement>("main")?.focus(); }}>To the content</a>
      <SyncLine />
      <Trouble />
      {found ? <LazyScreen found={found} query={query} /> : <Lost />}
      <Toasts />
    </>
  );
}

function Trouble() {
  const [secure] = useState(() => window.isSecureContext);
  const trouble = storageTrouble.value;
  return (
    <>
      {!secure && <Note tone="care" title="This address is not secure."><p>Without HTTPS a phone gives no microphone and keeps no copy of the app for when there is no signal. Open Barnlight by its https address; the read-me says how.</p></Note>}
      {trouble && <ErrorNote what={trouble.what} todo={trouble.todo} />}
      {updateReady.value && <Note tone="tell" title="A new version is on the phone."><div class="row"><Button onClick={takeUpdate}>Change to it now</Button></div></Note>}
    </>
  );
}

function Lost() {
  return (
    <Screen title="Nothing lives here" back="#/">
      <ErrorNote what="This address leads nowhere." todo="Go to the sales and pick from there.">
        <div class="row"><Button href="#/">To the sales</Button></div>
      </ErrorNote>
    </Screen>
  );
}
