// My kit: the person's own cameras, lenses, holders and boards, kept on this phone and in their book, never in a report.
import { useState } from "preact/hooks";
import { useLive, useStore } from "../../store/live.ts";
import { BigChoice } from "../../ui/choices.tsx";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { EmptyState, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { kindIcon } from "../visit/words.ts";
import { factWords, KINDS } from "./kit_words.ts";
import { useKit } from "./things.ts";

export default function Kit() {
  const store = useStore();
  const kit = useKit();
  const catalogue = useCatalogue();
  const unit = useLive(async (from) => (await from.meta.get("unit")) ?? "mm", []);
  const [adding, setAdding] = useState(false);
  const frame = { title: "My kit", over: "What a piece at a sale has to fit", back: "#/", backWord: "Back to the sales" };
  if (!kit || !catalogue || !unit) return <Screen {...frame}><Waiting /></Screen>;
  const add = (kind: string) => {
    store.create("kit_item", { kind, title: "", facts: {} }).then((id) => go(address("/kit", id)), (error: unknown) => tellFailure(error, () => add(kind)));
  };
  return (
    <Screen {...frame} foot={<Button wide kind="strong" icon="plus" onClick={() => setAdding(true)}>Add a thing of mine</Button>}>
      {kit.length === 0 && <EmptyState icon="box" title="Nothing in it yet" steps={["Add the cameras, lenses and holders you own.", "Put in the few figures that fit hangs on: focal length, circle, board, draw.", "At a sale each piece says at once what of yours it goes with."]} />}
      <ul class="lines">
        {kit.map((item) => (
          <li key={item.id}>
            <a class="line" href={address("/kit", item.id)}>
              <Icon name={kindIcon(item.kind)} />
              <span><span class="name">{item.title}</span><span class="under">{factWords(item.kind, item.facts, catalogue, unit) || "No figures yet"}</span></span>
              <Icon name="onward" size="little" />
            </a>
          </li>
        ))}
      </ul>
      {adding && (
        <Sheet title="What is it?" onClose={() => setAdding(false)}>
          <BigChoice legend="What is it?" legendHidden options={KINDS.map(({ id, title }) => ({ value: id, label: title, icon: kindIcon(id) }))} onChoose={add} />
        </Sheet>
      )}
    </Screen>
  );
}
