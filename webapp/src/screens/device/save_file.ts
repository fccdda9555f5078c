// Hands the whole book, or one session of it, as one file to the share sheet or the downloads, and says what became of it.
import { shareFile } from "../../device/share.ts";
import { writeBook } from "../../store/book_file.ts";
import type { Store } from "../../store/store.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";

/** Words for a file's name: what the session is called, as far as every system takes it. */
const fileWords = (title: string): string => title.normalize("NFKD").replace(/[^A-Za-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 40).toLowerCase();

export async function saveFile(store: Store, session?: { id: string; title: string }): Promise<void> {
  try {
    const { bytes, missing } = await writeBook(store, session?.id);
    const name = ["barnlight", session && fileWords(session.title), new Date(store.nowMs()).toISOString().slice(0, 10)].filter(Boolean).join("-");
    const outcome = await shareFile(`${name}.zip`, "application/zip", bytes);
    if (outcome === "stopped") return;
    if (session === undefined) {
      await store.meta.set("last_backup_ms", store.nowMs());
      // A file without its photos is no backup.
      if (missing === 0) await store.meta.set("unsaved_since", undefined);
    }
    const where = outcome === "saved" ? "Saved among your downloads" : "Handed over";
    showToast({ words: missing === 0 ? where : `${where}, but ${missing === 1 ? "1 photo or sound is" : `${missing} photos and sounds are`} not on this phone and not in it` });
  } catch (error) {
    tellFailure(error);
  }
}
