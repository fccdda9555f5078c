// How to take a photo that can be judged, and the red-dark screen for the eyes before it.
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { Note } from "../../ui/notes.tsx";
import { DarkTimer } from "../check/dark_timer.tsx";
import "../check/check.css";

export function HowTo() {
  const [dark, setDark] = useState(false);
  return (
    <section class="stack">
      <ol class="stack tight leak-steps">
        <li>Room as dark as it gets. A cool LED lamp inside the piece, its own opening covered or turned away.</li>
        <li>Fill the frame with the whole piece. Lean the phone on something; tap on the piece to focus.</li>
        <li>Expose one to two stops less than the phone wants; no night mode, no flash.</li>
        <li>One photo a length and direction: a hole in a fold opens at one length and closes at another.</li>
      </ol>
      <Note tone="care"><p>Do not look into a bright lamp. No hot lamp near old leather, cloth or film: they may burn.</p></Note>
      <Button wide icon="eye" onClick={() => setDark(true)}>Settle your eyes first: red dark screen</Button>
      {dark && <DarkTimer onClose={() => setDark(false)} />}
    </section>
  );
}
