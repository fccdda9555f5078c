// What goes into a report and what never does, said before it is made.
import { Icon } from "../../ui/icon.tsx";
import { MarkShape } from "../../ui/mark.tsx";

const GOES_IN = [
  "What it is, its marks, and what comes with it",
  "The verdict and what drove it",
  "Findings with photos and marked spots",
  "Shutter times and readings, and how each was got",
  "What was not checked, as large as the verdict",
  "Cautions and the limits of the methods",
];
const NEVER = ["The seller, and dealings with them", "Any price: asked, paid or thought of", "The place; the kind of venue and the day stay", "Private notes and the words of claims", "Photos you left out"];

export function Contents() {
  return (
    <details class="fold">
      <summary><span class="grow">What goes in, what never does</span></summary>
      <div class="inside stack">
        <h2>Goes in</h2>
        <ul class="stack tight">{GOES_IN.map((words) => <li key={words} class="row"><span class="mark good"><MarkShape tone="good" /></span><span class="grow">{words}</span></li>)}</ul>
        <h2>Never goes in</h2>
        <ul class="stack tight">{NEVER.map((words) => <li key={words} class="row"><Icon name="cross" /><span class="grow">{words}</span></li>)}</ul>
      </div>
    </details>
  );
}
