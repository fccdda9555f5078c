// A button, or a link that looks like one when it only leads somewhere.
import type { ComponentChildren } from "preact";
import { Icon, type IconName } from "./icon.tsx";

export interface ButtonProps {
  children?: ComponentChildren;
  kind?: "plain" | "strong" | "quiet" | "danger" | "bare";
  icon?: IconName;
  /** Spoken instead of the children; needed when only an icon shows. */
  label?: string;
  href?: string;
  wide?: boolean;
  pressed?: boolean;
  disabled?: boolean;
  submit?: boolean;
  onClick?: (event: MouseEvent) => void;
}

export function Button({ children, kind = "plain", icon, label, href, wide, pressed, disabled, submit, onClick }: ButtonProps) {
  const look = `button ${kind}${wide ? " wide" : ""}`;
  const inside = <>{icon && <Icon name={icon} />}{children}</>;
  if (href !== undefined) return <a class={look} href={href} aria-label={label} onClick={onClick}>{inside}</a>;
  return (
    <button type={submit ? "submit" : "button"} class={look} aria-label={label} aria-pressed={pressed} disabled={disabled} onClick={onClick}>
      {inside}
    </button>
  );
}
