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

export interface DepthFieldProps { depths: Depths; unit: LengthUnit; tool: string; besideMm: readonly number[]; catalogue: Catalogue }

interface Asked { readonly doubt: Doubt; readonly wrong: boolean; readonly text: string }

export function DepthField({ depths, unit, tool, besideMm, catalogue }: DepthFieldProps) {
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  const [text, setText] = useState("");
  const [asked, setAsked] = useState<Asked | null>(null);
  const at = depths.at;
  const there: Typed | undefined = at === null ? undefined : depths.typed.get(at);
  useEffect(() => { setText(""); setAsked(null); }, [at]);

  // The figure is read from the field itself: a caliper types faster than the screen is drawn.
  const shown = () => field.current?.value ?? text;
  const write = (value: string) => {
    if (field.current) field.current.value = value;
    setText(value);
    setAsked(null);
  };
  const put = (value: string, as: LengthUnit) => {
    if (at === null) return;
    write("");
    depths.put(at, { text: value, unit: as, tool });
    field.current?.focus({ preventScroll: true });
  };
  const enter = () => {
    const value = shown().trim();
    if (at === null || value === "") return;
    const weighed = weigh(value, unit, besideMm, catalogue);
    // Enter on a figure that was just asked about keeps it as it stands.
    if (!weighed.ask || (asked?.text === value && !asked.wrong)) put(value, unit);
    else setAsked({ doubt: weighed.ask, wrong: weighed.wrong, text: value });
  };
  const undo = () => {
    depths.undo?.();
    field.current?.focus({ preventScroll: true });
  };

  if (at === null) {
    return (
      <div class="row">
        <p class="grow" role="status"><strong>All points are there.</strong></p>
        {depths.undo && <Button icon="undo" onClick={undo}>Undo</Button>}
      </div>
    );
  }
  return (
    <form class="stack tight" onSubmit={(event) => { event.preventDefault(); enter(); }}>
      <div class="depth-line">
        <label for={id} aria-live="polite">{pointWords(at)} <span class="soft">({unit === "in" ? "inch" : "mm"}){there && `, now ${there.text} ${there.unit}`}</span></label>
        <Button icon="undo" label="Undo the last figure" disabled={!depths.undo} onClick={undo} />
        <input ref={field} id={id} class="figures" inputMode="none" autocomplete="off" maxLength={40} value={text}
          aria-invalid={asked ? true : undefined} aria-describedby={`${id}-ask`} onInput={(event) => write(event.currentTarget.value)} />
      </div>
      <div id={`${id}-ask`} role="alert">
        {asked && (
          <div class="stack tight">
            <p class="wrong"><Icon name="warn" size="little" />{asked.doubt.message}</p>
            {!asked.wrong && (
              <div class="row">
                {asked.doubt.likely_unit && asked.doubt.likely_unit !== unit && <Button kind="strong" onClick={() => put(asked.text, asked.doubt.likely_unit!)}>It was {asked.doubt.likely_unit === "in" ? "inches" : "millimetres"}</Button>}
                <Button onClick={() => put(asked.text, unit)}>Keep it as typed</Button>
              </div>
            )}
          </div>
        )}
      </div>
      <NumberPad enterWord={asked && !asked.wrong ? "Enter again keeps it" : "Enter, next point"} onEnter={enter}
        onKey={(key) => write(shown() + key)} onBack={() => write(shown().slice(0, -1))} />
    </form>
  );
}

