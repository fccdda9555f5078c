// What surrounds every screen: the sync line, what a person must know before they go on, and short words.
import { useEffect } from "preact/hooks";
import { useLive, useStore } from "../store/live.ts";
import { rememberAddress } from "../screens/visit/left_at.ts";
import { Button } from "../ui/button.tsx";
import { look } from "../ui/look.ts";
import { ErrorNote } from "../ui/notes.tsx";
import { here } from "../ui/route.ts";
import { Screen } from "../ui/screen.tsx";
import { Toasts } from "../ui/toast.tsx";
import { LazyScreen } from "./lazy_screen.tsx";
import { findRoute } from "./routes.ts";
import { SyncLine } from "./sync_line.tsx";
import { Trouble } from "./trouble.tsx";

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

function Lost() {
  return (
    <Screen title="Nothing lives here" back="#/">
      <ErrorNote what="This address leads nowhere." todo="Go to the sales and pick from there.">
        <div class="row"><Button href="#/">To the sales</Button></div>
      </ErrorNote>
    </Screen>
  );
}
