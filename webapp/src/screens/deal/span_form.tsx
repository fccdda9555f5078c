// Low, likely and high of one figure: typed together, because only together they make sense.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { parseMoney } from "../../domain/money.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { amountText } from "./amount_field.tsx";

export interface Span { low_minor: number; likely_minor: number; high_minor: number }

/** One figure alone stands for all three. Throws RangeError with words for the person. */
export function readSpan(low: string, likely: string, high: string, currency: string): Span {
  if (likely.trim() === "") throw new RangeError("Type the likely figure; low and high may stay empty.");
  const [a, b, c] = [low.trim() || likely, likely, high.trim() || likely].map((text) => parseMoney(text, currency).minor);
  if (!(a! <= b! && b! <= c!)) throw new RangeError("Low must not be above likely, nor likely above high: check the three figures.");
  return { low_minor: a!, likely_minor: b!, high_minor: c! };
}

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
