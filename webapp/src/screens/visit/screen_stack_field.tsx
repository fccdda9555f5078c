// What the light meets at the screen, in order from the lens: a ringed sheet on the wrong side moves the focus.
import type { Catalogue } from "../../domain/catalogue.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";

export interface Surface { surface: string; thickness_mm?: number | null }

/** As many as records.json allows. */
const MOST = 8;

export function ScreenStackField({ saved, catalogue, onChange }: { saved: readonly Surface[]; catalogue: Catalogue; onChange: (make: (held: readonly Surface[]) => readonly Surface[]) => void }) {
  const surfaces = catalogue.terms.screen_surfaces;
  const title = (id: string) => surfaces.find((one) => one.id === id)?.title ?? id;
  const swap = (index: number) => onChange((held) => (held[index] ? held.map((one, other) => (other === index - 1 ? held[index]! : other === index ? held[index - 1]! : one)) : held));
  return (
    <details class="fold">
      <summary><span class="grow">Order at the screen</span><span class="soft small figures">{saved.length || ""}</span></summary>
      <div class="inside stack">
        <p class="soft">From the lens outwards, as they lie in the back.</p>
        <ol class="lines">
          {saved.map((one, index) => (
            <li class="row" key={`${index} ${one.surface}`}>
              <span class="grow">{index + 1}. {title(one.surface)}</span>
              <Button kind="bare" icon="move" label={`${title(one.surface)} nearer the lens`} disabled={index === 0} onClick={() => swap(index)} />
              <Button kind="bare" icon="bin" label={`Take ${title(one.surface)} off`} onClick={() => onChange((held) => held.filter((_, other) => other !== index))} />
            </li>
          ))}
        </ol>
        {saved.length < MOST && <BigChoice legend={saved.length === 0 ? "Nearest to the lens" : "Next behind it"} options={surfaces.map((one) => ({ value: one.id, label: one.title }))} onChoose={(surface) => onChange((held) => [...held, { surface }].slice(0, MOST))} />}
      </div>
    </details>
  );
}
