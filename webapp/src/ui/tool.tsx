// A small square tool: a sign with its word under it, several in a row.
import type { ComponentChildren } from "preact";
import { Icon, type IconName } from "./icon.tsx";

export function Tool({ icon, children, pressed, onClick }: { icon: IconName; children: ComponentChildren; pressed?: boolean; onClick: () => void }) {
  return <button type="button" class="tool" aria-pressed={pressed} onClick={onClick}><Icon name={icon} />{children}</button>;
}
