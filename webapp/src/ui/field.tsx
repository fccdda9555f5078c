// A labelled place to type or pick, with its hint and, when something is wrong, what to do about it.
import { useEffect, useId, useRef } from "preact/hooks";
import { Icon } from "./icon.tsx";

interface Common {
  label: string;
  hint?: string;
  /** What is wrong and what to do; shown and read aloud. */
  wrong?: string | null;
}

function Around({ label, hint, wrong, id, children }: Common & { id: string; children: preact.ComponentChildren }) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {children}
      {hint && <span class="hint" id={`${id}-hint`}>{hint}</span>}
      <span id={`${id}-wrong`} role="alert">{wrong && <span class="wrong"><Icon name="warn" size="little" />{wrong}</span>}</span>
    </div>
  );
}

const described = (id: string, { hint, wrong }: Common) =>
  [hint ? `${id}-hint` : "", wrong ? `${id}-wrong` : ""].filter(Boolean).join(" ") || undefined;

export interface TextFieldProps extends Common {
  value: string;
  kind?: "text" | "date" | "search" | "number";
  /** Which on-screen keyboard a phone shows. */
  keyboard?: "text" | "decimal" | "numeric";
  lines?: boolean;
  max?: number;
  placeholder?: string;
  suggestions?: readonly string[];
  onInput: (value: string) => void;
  /** Called when the person is done with the field; the place to save. */
  onDone?: (value: string) => void;
  /** Called when nothing was typed for a moment, or the page is put away: what stands there may be all that ever will. */
  onPause?: (value: string) => void;
}

/** Short enough that a phone which dies takes a word with it, long enough that a word is not saved letter by letter. */
const PAUSE_MS = 800;

/** Calls `onPause` a moment after the last `note`, at once when the page goes away, and never for what was `dropped`. */
function usePause(onPause: ((value: string) => void) | undefined) {
  const told = useRef(onPause);
  told.current = onPause;
  const typed = useRef<{ value: string; timer: ReturnType<typeof setTimeout> } | null>(null);
  const drop = () => { if (typed.current) clearTimeout(typed.current.timer); typed.current = null; };
  const tell = () => {
    const now = typed.current;
    drop();
    if (now) told.current?.(now.value);
  };
  useEffect(() => {
    const hidden = () => { if (document.visibilityState === "hidden") tell(); };
    document.addEventListener("visibilitychange", hidden);
    return () => {
      document.removeEventListener("visibilitychange", hidden);
      tell();
    };
  }, []);
  return { note: (value: string) => { drop(); typed.current = { value, timer: setTimeout(tell, PAUSE_MS) }; }, drop };
}

export function TextField(props: TextFieldProps) {
  const id = useId();
  const { value, kind = "text", keyboard, lines, max, placeholder, suggestions, onInput, onDone, onPause } = props;
  const pause = usePause(onPause);
  const typed = (text: string) => { pause.note(text); onInput(text); };
  const done = (text: string) => { pause.drop(); onDone?.(text); };
  const shared = {
    id,
    value,
    placeholder,
    maxLength: max,
    "aria-describedby": described(id, props),
    "aria-invalid": props.wrong ? true : undefined,
    autocomplete: "off",
  };
  return (
    <Around {...props} id={id}>
      {lines
        ? <textarea {...shared} onInput={(event) => typed(event.currentTarget.value)} onChange={(event) => done(event.currentTarget.value)} />
        : <input {...shared} type={kind} inputMode={keyboard} list={suggestions && `${id}-list`} onInput={(event) => typed(event.currentTarget.value)} onChange={(event) => done(event.currentTarget.value)} />}
      {suggestions && <datalist id={`${id}-list`}>{suggestions.map((one) => <option key={one} value={one} />)}</datalist>}
    </Around>
  );
}

export interface PickFieldProps extends Common {
  value: string;
  options: readonly { value: string; label: string }[];
  onPick: (value: string) => void;
}

export function PickField(props: PickFieldProps) {
  const id = useId();
  return (
    <Around {...props} id={id}>
      <select id={id} value={props.value} aria-describedby={described(id, props)} onChange={(event) => props.onPick(event.currentTarget.value)}>
        {props.options.map((option) => <option key={option.value} value={option.value}>{option.label}</option>)}
      </select>
    </Around>
  );
}
