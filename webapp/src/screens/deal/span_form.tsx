// Low, likely and high of one figure: typed together, because only together they make sense.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { amountText, readSpan, type Span } from "./typed.ts";

export function SpanForm({ saved, currency, children, onSave }: { saved: Span | null; currency: string; children?: ComponentChildren; onSave: (span: Span) => void }) {
  const [low, setLow] = useState(() => amountText(saved?.low_minor, currency));
  const [likely, setLikely] = useState(() => amountText(saved?.likely_minor, currency));
  const [high, setHigh] = useState(() => amountText(saved?.high_minor, currency));
  const [wrong, setWrong] = useState<string | null>(null);
  const save = () => {
    try {
      const span = readSpan(low, likely, high, currency);
      setWrong(null);
      onSave(span);
    } catch (error) {
      setWrong(error instanceof Error ? error.message : "Type amounts, as in 120 or 89.50.");
    }
  };
  return (
    <div class="stack">
      <TextField label={`Low, ${currency}`} keyboard="decimal" max={20} value={low} onInput={setLow} />
      <TextField label={`Likely, ${currency}`} keyboard="decimal" max={20} value={likely} onInput={setLikely} />
      <TextField label={`High, ${currency}`} keyboard="decimal" max={20} value={high} wrong={wrong} onInput={setHigh} />
      {children}
      <Button kind="strong" wide onClick={save}>Keep these figures</Button>
    </div>
  );
}
