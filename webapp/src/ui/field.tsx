// A labelled place to type or pick, with its hint and, when something is wrong, what to do about it.
import { useId } from "preact/hooks";
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
}

export function TextField(props: TextFieldProps) {
  const id = useId();
  const { value, kind = "text", keyboard, lines, max, placeholder, suggestions, onInput, onDone } = props;
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
        ? <textarea {...shared} onInput={(event) => onInput(event.currentTarget.value)} onChange={(event) => onDone?.(event.currentTarget.value)} />
        : <input {...shared} type={kind} inputMode={keyboard} list={suggestions && `${id}-list`} onInput={(event) => onInput(event.currentTarget.value)} onChange={(event) => onDone?.(event.currentTarget.value)} />}
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
