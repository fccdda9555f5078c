// Where the person's work stands, in one short line.
import { signal } from "@preact/signals";

export interface SyncStatus {
  state: "alone" | "idle" | "sending" | "offline" | "paused" | "full" | "error";
  waiting: number;
  media_waiting: number;
  refused: number;
  last_ms: number | null;
  /** What the server said when it would not take something, with what to do; null when all went well. */
  why: string | null;
  words: string;
}

export const status = signal<SyncStatus>({ state: "alone", waiting: 0, media_waiting: 0, refused: 0, last_ms: null, why: null, words: "On this phone" });

const count = (n: number, one: string, many: string) => (n === 0 ? "" : `${n} ${n === 1 ? one : many}`);

type Standing = Omit<SyncStatus, "words" | "why">;

const isRefused = ({ state, refused }: Standing): boolean => refused > 0 && state !== "sending";

/** The line for a state, with where to look for more. */
export function statusWords(now: Standing): string {
  const more = isRefused(now) || ["paused", "full", "error"].includes(now.state);
  return more ? `${bareWords(now)}: see Device` : bareWords(now);
}

/** The line for the Device screen itself; what waits is named, so that nobody has to wonder what "syncing" means. */
export function bareWords(now: Standing): string {
  const { state, waiting, media_waiting, refused } = now;
  const left = [count(waiting, "edit", "edits"), count(media_waiting, "file", "files")].filter(Boolean).join(" and ");
  if (isRefused(now)) return `The server did not take ${count(refused, "edit", "edits")}`;
  switch (state) {
    case "alone": return "Only on this phone";
    case "idle": return left ? `${left} still to send` : "All of it is on the server";
    case "sending": return left ? `Sending ${left}` : "Asking the server";
    case "offline": return left ? `No server in reach; ${left} kept here` : "No server in reach; nothing waits";
    case "paused": return "Must be paired again";
    case "full": return "The phone's storage is full";
    case "error": return `Server trouble; ${left || "nothing"} ${left ? "kept here" : "is lost"}`;
  }
}
