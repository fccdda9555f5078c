// The kind of shutter and the speeds marked on it: they decide which checks apply and what the recorder asks for.
import { useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { TextField } from "../../ui/field.tsx";
import { Note } from "../../ui/notes.tsx";
import type { SetPiece } from "./facts.tsx";
import { ownList, seriesList, type SpeedList } from "./speeds.ts";

export interface ShutterFactsProps { piece: Record<string, any>; catalogue: Catalogue; setPiece: SetPiece }

export function ShutterFacts({ piece, catalogue, setPiece }: ShutterFactsProps) {
  const kinds = catalogue.shutter_kinds;
  const kind = kinds.find((one) => one.id === piece["shutter_kind"]);
  const speeds = (piece["speeds"] ?? null) as SpeedList | null;
  const series = catalogue.series as readonly (Catalogue["series"][number] & { title: string })[];

  // Once opened it stays open: the cocking rule comes up only after the kind is picked.
  const [openAtFirst] = useState(!kind);

  const pickKind = (id: string) => {
    const usual = series.find((one) => one.id === kinds.find((other) => other.id === id)?.default_series);
    setPiece(speeds || !usual ? { shutter_kind: id } : { shutter_kind: id, speeds: seriesList(usual) });
  };

  return (
    <details class="fold" open={openAtFirst}>
      <summary><span class="grow">Shutter and its speeds</span></summary>
      <div class="inside stack">
        <BigChoice legend="Kind of shutter" oneColumn value={kind?.id ?? null} options={kinds.map((one) => ({ value: one.id, label: one.title }))} onChoose={pickKind} />
        {kind && <Note tone="care" title={kind.cocking_rule}><ol class="stack tight">{kind.how_to_work.map((line) => <li key={line}>{line}</li>)}</ol></Note>}
        {kind && catalogue.cautions.filter((caution) => kind.cautions.includes(caution.id)).map((caution) => <Note key={caution.id} tone="care" title={caution.title}><p>{caution.say}</p></Note>)}
        <BigChoice legend="Speeds marked on it" value={speeds?.series ?? null} options={series.map((one) => ({ value: one.id, label: one.title }))}
          onChoose={(id) => setPiece({ speeds: seriesList(series.find((one) => one.id === id)!) })} />
        {speeds && <p class="figures">{speeds.marks.map((mark) => mark.text).join("  ")}</p>}
        <OwnSpeeds onSave={(list) => setPiece({ speeds: list })} />
      </div>
    </details>
  );
}

function OwnSpeeds({ onSave }: { onSave: (list: SpeedList) => void }) {
  const [text, setText] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const take = () => {
    try {
      onSave(ownList(text));
      setWrong(null);
      setText("");
    } catch (error) {
      setWrong((error as Error).message);
    }
  };
  return (
    <div class="stack tight">
      <TextField label="Or its own list" hint="As on the ring: 1 2 5 10 25 50 100" value={text} wrong={wrong} max={200} onInput={setText} />
      <Button disabled={text.trim() === ""} onClick={take}>Use this list</Button>
    </div>
  );
}
