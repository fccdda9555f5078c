// The rest before buying on impulse, and after it the gentle question whether the want still stands.
import { rest } from "../../domain/wants.ts";
import { Button } from "../../ui/button.tsx";
import { Note } from "../../ui/notes.tsx";
import { today } from "../visit/today.ts";
import { dayWords } from "../visit/words.ts";
import type { KeptWant } from "./wants.ts";

export function StandsCard({ want, restDays, onStands, onDrop }: { want: KeptWant; restDays: number; onStands: () => void; onDrop: () => void }) {
  const resting = rest(want, today(), restDays);
  if (resting?.ask) {
    return (
      <section class="card stack" aria-labelledby="stands">
        <h2 id="stands">Does the want still stand?</h2>
        <p>{want.why ? `You wrote: “${want.why}”` : "You did not write down why. Would you miss it?"}</p>
        <div class="row">
          <Button kind="strong" icon="tick" onClick={onStands}>Yes, it stands</Button>
          <Button icon="cross" onClick={onDrop}>No, let it go</Button>
        </div>
      </section>
    );
  }
  return (
    <>
      {resting && resting.days_left > 0 && <Note tone="tell"><p>It rests until {dayWords(resting.until)}. Nothing forbids to buy before; wants that pass by themselves cost nothing.</p></Note>}
      {want.stands && <p class="small soft">Said to stand on {dayWords(want.stands)}.</p>}
      <div class="row"><Button icon="cross" onClick={onDrop}>Let it go</Button></div>
    </>
  );
}
