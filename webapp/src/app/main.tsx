// Starts the app: opens the phone's book, draws the screen of the address, then sync, updates and what may be needed next.
import { render } from "preact";
import { openStore, StoreError, type Store } from "../store/store.ts";
import { StoreProvider } from "../store/live.ts";
import { readCatalogue } from "../screens/visit/use_catalogue.ts";
import { startSync } from "../sync/engine.ts";
import "../ui/index.css";
import { look, wearLook } from "../ui/look.ts";
import { ErrorNote } from "../ui/notes.tsx";
import { followAddress, here } from "../ui/route.ts";
import { followBackup } from "./backup_words.ts";
import { Frame } from "./frame.tsx";
import { watchMark } from "./kept_mark.ts";
import { readAhead } from "./lazy_screen.tsx";
import { watchPrivacy } from "./private_window.ts";
import { findRoute } from "./routes.ts";
import { watchStorage } from "./storage_state.ts";
import { watchForUpdates } from "./update.ts";

/** Addresses whose screens a person at a table needs next; read while the phone has nothing better to do. */
const SOON = ["/new", "/session/x", "/visit/x", "/visit/x/pass/short", "/visit/x/check/x", "/visit/x/photo/x"];

const TODO: Record<string, string> = {
  quota: "The phone's storage is full. Free some room and open Barnlight again.",
  blocked: "This browser does not let pages keep anything. Leave private browsing, or open Barnlight in another browser.",
  newer: "A newer Barnlight has used this phone's book. Close every tab of Barnlight and open it again where there is a signal: the new version then comes by itself. Nothing is lost.",
  lost: "Close Barnlight and every other tab of it, then open it again. What was saved stays on the phone.",
};

/** Once the screen asked for stands there: on a slow line nothing may come before it. */
async function firstShown(): Promise<void> {
  const found = findRoute(here.value.path);
  if (found) await readAhead(found).catch(() => undefined);
  await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 0)));
}

function readSoon(): void {
  const later = window.requestIdleCallback ?? ((work: () => void) => setTimeout(work, 1500));
  later(() => {
    void readCatalogue().catch(() => undefined);
    for (const path of SOON) void readAhead(findRoute(path)!).catch(() => undefined);
  });
}

async function start(root: HTMLElement): Promise<void> {
  wearLook();
  followAddress();
  let store: Store;
  try {
    store = await openStore();
  } catch (error) {
    const code = error instanceof StoreError ? error.code : "lost";
    render(<main class="page"><h1>Barnlight</h1><ErrorNote what="The phone's storage does not open." todo={TODO[code]!} /></main>, root);
    return;
  }
  watchStorage(store);
  await watchMark(store).catch((error: unknown) => console.error(error));
  followBackup(store);
  look.value = (await store.meta.get("theme")) ?? "auto";
  render(<StoreProvider value={store}><Frame /></StoreProvider>, root);
  startSync(store);
  await firstShown();
  await watchPrivacy().catch((error: unknown) => console.error(error));
  await watchForUpdates().catch((error: unknown) => console.error(error));
  readSoon();
}

void start(document.getElementById("app")!);
