// One short line on every screen: where the person's work is kept, and what still waits.
import { status } from "../sync/engine.ts";
import { Icon } from "../ui/icon.tsx";
import { backupWords } from "./backup_words.ts";

export function SyncLine() {
  const { state, words } = status.value;
  const trouble = state === "error" || state === "paused";
  return (
    <aside class={`sync-line${trouble ? " trouble" : ""}`} aria-label="Where your work is kept">
      <Icon name={trouble ? "warn" : state === "sending" ? "move" : "tick"} />
      <span>{[words, backupWords.value].filter(Boolean).join(" · ")}</span>
    </aside>
  );
}
