// Blocks that tell something: a fault with its cure, a caution, an empty place with what to do first.
import type { ComponentChildren } from "preact";
import { Icon, type IconName } from "./icon.tsx";

export function Note({ tone, title, children, alert = false }: { tone: "bad" | "care" | "tell"; title?: string; children?: ComponentChildren; alert?: boolean }) {
  return (
    <div class={`note ${tone}`} role={alert ? "alert" : undefined}>
      <Icon name={tone === "tell" ? "info" : "warn"} />
      <div class="stack tight">
        {title && <strong>{title}</strong>}
        {children}
      </div>
    </div>
  );
}

/** Says what went wrong and what to do; `todo` is never left out. */
export function ErrorNote({ what, todo, children }: { what: string; todo: string; children?: ComponentChildren }) {
  return <Note tone="bad" title={what} alert><p>{todo}</p>{children}</Note>;
}

export function EmptyState({ icon, title, steps, children }: { icon: IconName; title: string; steps: readonly ComponentChildren[]; children?: ComponentChildren }) {
  return (
    <div class="empty">
      <Icon name={icon} size="large" />
      <h2>{title}</h2>
      <ol>{steps.map((step, index) => <li key={index}><span>{step}</span></li>)}</ol>
      {children}
    </div>
  );
}

/** Stands for content that is a moment away; silent for the first blink, so that a fast phone never shows it. */
export function Waiting({ words = "One moment" }: { words?: string }) {
  return <p class="soft waiting" role="status">{words}…</p>;
}
