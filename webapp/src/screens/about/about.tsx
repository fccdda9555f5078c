// What the methods cannot see, what stays private, and every caution in one list.
import { Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { allCautions } from "../visit/cautions.ts";

const LIMITS: readonly { title: string; words: string }[] = [
  { title: "Eyes and a lamp", words: "“None seen” means none seen with that lamp, in that light, by that person. It never means there is none." },
  { title: "Shutter times by sound", words: "Sound hears the blades arrive, not the light. The time is taken from the end of opening to the end of closing. Fast speeds change with the stop; above the speed where sound can be trusted, no speed is passed or failed." },
  { title: "Cold and settled", words: "The first firing after a rest is what the first sheet of film gets. Later ones are usually quicker. Cold rooms slow everything; the temperature belongs to the figure." },
  { title: "Depth and lengths", words: "A figure is as good as the tool it was read with. The tool and its steps stand beside each reading." },
  { title: "Focus, aperture, coverage", words: "Reckoned for a thin lens and for film lying flat. Published depths are quotations of a standard; no tolerance of an ISO standard could be read, so none is claimed. An image circle is a claim until you have looked at the corners." },
  { title: "Verdict and money", words: "The verdict follows from answers and nothing else. Repair figures are examples until you put in your own. What was not looked at is named, never guessed." },
  { title: "A claim", words: "What somebody says is kept with its date and what stands behind it. It never counts as seen." },
];

const PRIVATE: readonly string[] = [
  "Everything is kept on this phone first. With a server of yours it is also kept there; nowhere else.",
  "A report never holds the seller, what you paid or would pay, the place, or a private note.",
  "Photos lose their place, time and camera data before they are stored.",
  "A mark without any words of yours stays beside the book (in a cookie and in the page's storage): whether it is paired, and since when something waits. By it Barnlight notices when a browser cleared the book.",
  "Sound is kept only around a firing. Ask before you record in somebody's house.",
];

export default function About() {
  const catalogue = useCatalogue();
  return (
    <Screen title="What this can and cannot tell" back="#/">
      <section class="stack" aria-labelledby="limits">
        <h2 id="limits">Limits of the methods</h2>
        {LIMITS.map(({ title, words }) => <div key={title}><h3>{title}</h3><p>{words}</p></div>)}
      </section>
      <section class="stack" aria-labelledby="private">
        <h2 id="private">What stays private</h2>
        <ul class="stack">{PRIVATE.map((words) => <li key={words} class="card">{words}</li>)}</ul>
      </section>
      <section class="stack" aria-labelledby="cautions">
        <h2 id="cautions">Cautions</h2>
        <p>They stand at the checks where they are needed. Local rules and licensed practice come first.</p>
        {catalogue ? <dl class="stack">{allCautions(catalogue).map((caution) => <div key={caution.id} class="card"><dt><strong>{caution.title}</strong></dt><dd>{caution.say}</dd></div>)}</dl> : <Waiting />}
      </section>
    </Screen>
  );
}
