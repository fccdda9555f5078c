// One short line on every screen: where the person's work is kept, and what still waits.
import { status } from "../sync/engine.ts";
import { Icon } from "../ui/icon.tsx";
import { backupWords } from "./backup_words.ts";

export function SyncLine() {
  const { state, words } = status.value;
  const trouble = state === "error" || state === "paused" || state === "full";
  return (
    <aside class={`sync-line${trouble ? " trouble" : ""}`} aria-label="Where your work is kept">
      <Icon name={trouble ? "warn" : state === "sending" ? "move" : "tick"} />
      {/* What must be done comes alone: with the day of the last backup it would take two lines of a small phone. */}
      <span>{trouble ? words : [words, backupWords.value].filter(Boolean).join(" · ")}</span>
    </aside>
  );
}
