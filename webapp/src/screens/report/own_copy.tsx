// One file from this phone alone: what can be handed on where there is no server or no signal.
import { useEffect, useRef, useState } from "preact/hooks";
import { shareFile } from "../../device/share.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorNote, Note } from "../../ui/notes.tsx";
import { showToast } from "../../ui/toast.tsx";
import { makeOwnFile, type OwnFile } from "./own_file.ts";
import type { Subject } from "./reports.ts";

export function OwnCopy({ subject, hidden }: { subject: Subject; hidden: readonly string[] }) {
  const store = useStore();
  const [share, setShare] = useState<number | null>(null);
  const [made, setMade] = useState<OwnFile | null>(null);
  const [problem, setProblem] = useState("");
  const stop = useRef<AbortController | null>(null);
  useEffect(() => () => stop.current?.abort(), []);

  const make = async () => {
    const control = new AbortController();
    stop.current = control;
    setProblem("");
    setMade(null);
    setShare(0);
    try {
      setMade(await makeOwnFile(store, subject, hidden, setShare, control.signal));
    } catch (error) {
      if (!control.signal.aborted) setProblem(error instanceof Error ? error.message : "It could not be made.");
    }
    setShare(null);
  };
  const handOn = async ({ name, html }: OwnFile) => {
    const how = await shareFile(name, "text/html", html);
    if (how === "saved") showToast({ words: `Saved as ${name}` });
  };

  return (
    <section class="stack" aria-labelledby="own-copy">
      <h2 id="own-copy">Without the server</h2>
      <p class="soft">One file with everything in it, made here and now. It opens in any browser. No link, no version: whoever gets it cannot check it against anything.</p>
      {share !== null && (
        <div class="stack tight">
          <progress max={1} value={share} aria-label="Making the file" />
          <Button onClick={() => stop.current?.abort()}>Stop</Button>
        </div>
      )}
      {problem && <ErrorNote what="The file was not made." todo={problem} />}
      {made && made.missing > 0 && <Note tone="tell" title={`${made.missing} ${made.missing === 1 ? "photo or sound is" : "photos or sounds are"} not on this phone.`}><p>The file says so at each. Make it again with a signal to have them in it.</p></Note>}
      {made
        ? <Button wide kind="strong" icon="share" onClick={() => void handOn(made)}>Hand on {Math.max(1, Math.round(made.html.length / 1000))} kB</Button>
        : <Button wide icon="page" disabled={share !== null} onClick={() => void make()}>Make one file on this phone</Button>}
    </section>
  );
}
