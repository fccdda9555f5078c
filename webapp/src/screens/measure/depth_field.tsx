// The one field that takes every figure of a set of holders: Enter moves on, what cannot be is asked about at once.
import { useEffect, useId, useRef, useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import type { Doubt, LengthUnit } from "../../domain/lengths.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import type { Typed } from "./depth_book.ts";
import { pointWords, weigh } from "./depth_entry.ts";
import { NumberPad } from "./number_pad.tsx";
import type { Depths } from "./use_depths.ts";

export interface DepthFieldProps {
  depths: Depths;
  /** As they stand where this is drawn: `depths` itself stays one and the same. */
  at: string | null;
  there: Typed | undefined;
  canUndo: boolean;
  unit: LengthUnit;
  tool: string;
  catalogue: Catalogue;
}

interface Asked { readonly doubt: Doubt; readonly wrong: boolean; readonly text: string }

export function DepthField({ depths, at, there, canUndo, unit, tool, catalogue }: DepthFieldProps) {
  const id = useId();
  // The browser keeps the text and not the screen: a caliper types faster than the screen is drawn.
  const field = useRef<HTMLInputElement>(null);
  const asked = useRef<Asked | null>(null);
  const wantsFocus = useRef(false);
  const [, setTurn] = useState(0);
  const ask = (now: Asked | null) => {
    if (now === asked.current) return;
    asked.current = now;
    setTurn((turn) => turn + 1);
  };
  const write = (value: string) => {
    field.current!.value = value;
    ask(null);
  };
  const put = (text: string, as: LengthUnit) => {
    write("");
    depths.put({ text, unit: as, tool });
    field.current?.focus({ preventScroll: true });
  };
  const enter = () => {
    const value = field.current!.value.trim();
    if (value === "") return;
    const weighed = weigh(value, unit, depths.pointsMm, catalogue);
    // Enter on a figure that was just asked about keeps it as it stands.
    if (!weighed.ask || (asked.current?.text === value && !asked.current.wrong)) put(value, unit);
    else ask({ doubt: weighed.ask, wrong: weighed.wrong, text: value });
  };
  const change = () => {
    ask(null);
    field.current?.focus({ preventScroll: true });
    field.current?.select();
  };
  const undo = () => {
    if (field.current) write("");
    wantsFocus.current = true;
    depths.undo();
  };
  // After the last point the field is gone; taking it back brings it up again, ready to type.
  useEffect(() => {
    if (wantsFocus.current) field.current?.focus({ preventScroll: true });
    wantsFocus.current = false;
  });

  if (at === null) {
    return (
      <div class="row">
        <p class="grow" role="status"><strong>All points are there.</strong></p>
        {canUndo && <Button icon="undo" onClick={undo}>Undo</Button>}
      </div>
    );
  }
  const doubted = asked.current;
  const likely = doubted?.doubt.likely_unit;
  return (
    <form class="stack tight" onSubmit={(event) => { event.preventDefault(); enter(); }}>
      <div class="depth-line">
        <label for={id} aria-live="polite">{pointWords(at)} <span class="soft">({unit === "in" ? "inch" : "mm"}){there && `, now ${there.text} ${there.unit}`}</span></label>
        <input ref={field} id={id} class="figures" inputMode="none" autocomplete="off" maxLength={40}
          aria-invalid={doubted ? true : undefined} aria-describedby={`${id}-ask`} onInput={() => ask(null)} />
      </div>
      <div id={`${id}-ask`} role="alert">
        {doubted && (
          <div class="stack tight">
            <p class="wrong"><Icon name="warn" size="little" />{doubted.doubt.message}</p>
            {!doubted.wrong && (
              <div class="row">
                {likely && likely !== unit && <Button kind="strong" onClick={() => put(doubted.text, likely)}>It was {likely === "in" ? "inches" : "millimetres"}</Button>}
                <Button onClick={() => put(doubted.text, unit)}>Keep it (Enter)</Button>
                <Button onClick={change}>Change it</Button>
              </div>
            )}
          </div>
        )}
      </div>
      {(!doubted || doubted.wrong) && <NumberPad canUndo={canUndo} onUndo={undo} onEnter={enter}
        onKey={(key) => write(field.current!.value + key)} onBack={() => write(field.current!.value.slice(0, -1))} />}
    </form>
  );
}
