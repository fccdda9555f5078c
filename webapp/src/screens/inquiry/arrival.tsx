// When it arrived and until when it may go back: the countdown in plain words, and the way into the unpacking.
import { useState } from "preact/hooks";
import { countdown, returnUntil } from "../../domain/return_clock.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Note } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Versions } from "../history/versions.tsx";
import { today } from "../visit/today.ts";
import type { SaidReturns } from "./returns_sheet.tsx";
import type { InquiryView } from "./use_inquiry.ts";

const DAY = /^\d{4}-\d{2}-\d{2}$/;

/** Nothing where no day is noted. */
export function ReturnNote({ until }: { until: string | null | undefined }) {
  if (!until) return null;
  const { days, over, line } = countdown(until, today());
  return <Note tone={!over && days <= 3 ? "care" : "tell"}><p>{line}</p></Note>;
}

export function Arrival({ view, visit, put }: { view: InquiryView; visit: string; put: (fields: Record<string, unknown>) => void }) {
  const { arrived = null, return_until: until = null, returns = null } = (view.record?.values ?? {}) as { arrived?: string | null; return_until?: string | null; returns?: SaidReturns | null };
  const [wrong, setWrong] = useState<{ arrived?: string; until?: string }>({});
  const [typed, setTyped] = useState<{ arrived?: string; until?: string }>({});
  const days = returns?.allowed === "yes" ? returns.days : null;
  const setArrived = (text: string) => {
    setTyped({ ...typed, arrived: text });
    if (text === "") return put({ arrived: null });
    if (!DAY.test(text)) return undefined;
    if (text > today()) return setWrong({ ...wrong, arrived: "That day is still to come. Note it once the box is there." });
    setWrong({ ...wrong, arrived: undefined });
    return put({ arrived: text, ...(days && !until && { return_until: returnUntil(text, days) }) });
  };
  const setUntil = (text: string) => {
    setTyped({ ...typed, until: text });
    if (text === "") return put({ return_until: null });
    if (!DAY.test(text)) return undefined;
    if (arrived && text < arrived) return setWrong({ ...wrong, until: "It cannot go back before it arrived. Look at both days again." });
    setWrong({ ...wrong, until: undefined });
    return put({ return_until: text });
  };
  return (
    <section class="stack" aria-labelledby="arrival">
      <h2 id="arrival">When it arrives</h2>
      {view.record && <Versions record={view.record.id} fields={["arrived", "return_until"]} />}
      <TextField label="Arrived on" kind="date" value={typed.arrived ?? arrived ?? ""} wrong={wrong.arrived} onInput={setArrived} />
      <TextField label="May go back until" kind="date" value={typed.until ?? until ?? ""} hint={days ? `They said ${days} days.` : "As agreed, or as local law says."} wrong={wrong.until} onInput={setUntil} />
      <Button wide icon="box" href={address("/visit", visit, "/unpacking")}>Unpack it: claims first</Button>
    </section>
  );
}
