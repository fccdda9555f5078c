// A mark beside the book, by which a phone whose browser cleared the book still knows that there was one, and how safe it was.
//
// Browsers clear kinds of storage apart from each other, so the mark is left in two places. It holds no words of the person's.
import type { Store } from "../store/store.ts";

/** What was known of the book when it was last looked at. */
export interface KeptMark { paired: boolean; unsaved_since: number | null }

const NAME = "barnlight_kept";
/** Browsers keep no cookie longer. */
const COOKIE_S = 400 * 86_400;

export const markText = ({ paired, unsaved_since }: KeptMark): string => `${paired ? "paired" : "alone"}.${unsaved_since ?? ""}`;

export function parseMark(text: string | null | undefined): KeptMark | null {
  const found = /^(paired|alone)\.(\d{0,15})$/.exec(text ?? "");
  return found && { paired: found[1] === "paired", unsaved_since: found[2] ? Number(found[2]) : null };
}

function readMark(): KeptMark | null {
  let local: string | null = null;
  try { local = localStorage.getItem(NAME); } catch { /* a browser that blocks it has no mark */ }
  return parseMark(local) ?? parseMark(new RegExp(`(?:^|; )${NAME}=([^;]*)`).exec(document.cookie)?.[1]);
}

function leaveMark(mark: KeptMark): void {
  const text = markText(mark);
  try { localStorage.setItem(NAME, text); } catch { /* the cookie is left still */ }
  document.cookie = `${NAME}=${text}; Max-Age=${COOKIE_S}; Path=/; SameSite=Strict${location.protocol === "https:" ? "; Secure" : ""}`;
}

/** Notices a book that was cleared, and keeps the mark true from now on; call once, before the first screen. */
export async function watchMark(store: Store): Promise<void> {
  const before = store.begun ? readMark() : null;
  if (before) await store.meta.set("cleared", before);
  let last = "";
  const note = async () => {
    const [paired, unsaved, backup] = await Promise.all([store.meta.get("paired"), store.meta.get("unsaved_since"), store.meta.get("last_backup_ms")]);
    if (!paired && unsaved === undefined && backup === undefined) return;
    const mark = { paired: paired !== undefined, unsaved_since: unsaved ?? null };
    if (markText(mark) === last) return;
    last = markText(mark);
    leaveMark(mark);
  };
  store.subscribe(() => { void note().catch(() => undefined); });
  await note();
}

const day = (ms: number): string => new Date(ms).toLocaleDateString(undefined, { day: "numeric", month: "long", year: "numeric" });

/** What happened, and what brings the book back. */
export function clearedWords({ paired, unsaved_since }: KeptMark): { what: string; todo: string } {
  const what = "The browser cleared the book that was on this phone.";
  if (!paired) return { what, todo: "It was on this phone alone. If you saved it to a file, load that file under Device, and it is all back. To keep the browser from doing so again, put Barnlight on the home screen and pair it with a server." };
  if (unsaved_since === null) return { what, todo: "All of it was on your server. Pair this phone again, and it comes back." };
  return { what, todo: `Pair this phone again, and what the server had comes back. Edits made here since ${day(unsaved_since)} had not all been sent; if you saved a file since, load it under Device.` };
}
