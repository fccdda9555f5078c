// Everything to one file and back, with no server at all.
import { useRef, useState } from "preact/hooks";
import { counted } from "../../domain/report_words.ts";
import { BadBook, readBook } from "../../store/book_file.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorNote } from "../../ui/notes.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { saveFile } from "./save_file.ts";

const addedWords = (changes: number, media: number): string =>
  [changes > 0 && counted(changes, "edit", "edits"), media > 0 && counted(media, "file", "files")].filter(Boolean).join(" and ");

export function BookFile() {
  const store = useStore();
  const [working, setWorking] = useState<"saving" | "loading" | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const chooser = useRef<HTMLInputElement>(null);

  const save = async () => {
    setWorking("saving");
    await saveFile(store);
    setWorking(null);
  };

  const load = async (file: File | undefined) => {
    if (!file) return;
    setWorking("loading");
    setWrong(null);
    try {
      const { changes, media } = await readBook(store, await file.arrayBuffer());
      showToast({ words: changes + media === 0 ? "Nothing in it was new" : `${addedWords(changes, media)} added; nothing was overwritten` });
    } catch (error) {
      if (error instanceof BadBook) setWrong(error.message);
      else tellFailure(error);
    }
    setWorking(null);
  };

  return (
    <>
      <Button icon="box" disabled={working !== null} onClick={() => void save()}>{working === "saving" ? "Packing…" : "Save everything to one file"}</Button>
      <Button icon="page" disabled={working !== null} onClick={() => chooser.current?.click()}>{working === "loading" ? "Reading…" : "Load such a file"}</Button>
      <input ref={chooser} type="file" accept=".zip,application/zip" class="only-read" tabIndex={-1} aria-label="Saved file to load" onChange={(event) => { void load(event.currentTarget.files?.[0]); event.currentTarget.value = ""; }} />
      {wrong && <ErrorNote what="This file was not taken." todo={wrong} />}
    </>
  );
}
