// One short line on every screen: where the person's work is kept, and what still waits.
import { status } from "../sync/engine.ts";
import { Icon } from "../ui/icon.tsx";
import { backupWords } from "./backup_words.ts";

export function SyncLine() {
  const { state, words } = status.value;
  const trouble = state === "error" || state === "paused";
  return (
    <p class={`sync-line${trouble ? " trouble" : ""}`}>
      <Icon name={trouble ? "warn" : state === "sending" ? "move" : "tick"} />
      <span>{[words, backupWords.value].filter(Boolean).join(" · ")}</span>
    </p>
  );
}
