// Choosing: large choices for one tap in a hurry, chips for several at once.
import type { ComponentChildren } from "preact";
import { Icon, type IconName } from "./icon.tsx";

export interface Choice<T extends string> {
  value: T;
  label: string;
  hint?: string;
  icon?: IconName;
  mark?: ComponentChildren;
}

export interface BigChoiceProps<T extends string> {
  legend: string;
  /** The legend is read aloud only, where the heading above already asks the question. */
  legendHidden?: boolean;
  options: readonly Choice<T>[];
  value?: T | null;
  oneColumn?: boolean;
  onChoose: (value: T) => void;
}

export function BigChoice<T extends string>({ legend, legendHidden, options, value, oneColumn, onChoose }: BigChoiceProps<T>) {
  return (
    <fieldset class="stack tight">
      <legend class={legendHidden ? "only-read" : "label"}>{legend}</legend>
      <div class={oneColumn ? "choices one" : "choices"}>
        {options.map((option) => (
          <button type="button" key={option.value} class="choice" aria-pressed={value === undefined ? undefined : value === option.value} onClick={() => onChoose(option.value)}>
            {option.icon && <Icon name={option.icon} />}
            {option.mark}
            <span>{option.label}{option.hint && <span class="hint">{option.hint}</span>}</span>
          </button>
        ))}
      </div>
    </fieldset>
  );
}

export interface ChipsProps<T extends string> {
  legend: string;
  legendHidden?: boolean;
  options: readonly { value: T; label: string }[];
  chosen: readonly T[];
  onToggle: (value: T) => void;
}

export function Chips<T extends string>({ legend, legendHidden, options, chosen, onToggle }: ChipsProps<T>) {
  return (
    <fieldset class="stack tight">
      <legend class={legendHidden ? "only-read" : "label"}>{legend}</legend>
      <div class="chips">
        {options.map((option) => (
          <button type="button" key={option.value} class="chip" aria-pressed={chosen.includes(option.value)} onClick={() => onToggle(option.value)}>{option.label}</button>
        ))}
      </div>
    </fieldset>
  );
}
