// A sheet that rises from the bottom edge: the browser's own dialog keeps focus inside and closes it with Esc.
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";
import { Button } from "./button.tsx";

/** Enter in a field of one line does what the sheet's strong button does. Going there first makes the field take its last text. */
function pressMain(event: KeyboardEvent & { currentTarget: HTMLDialogElement }): void {
  if (event.key !== "Enter" || event.isComposing || !(event.target instanceof HTMLInputElement)) return;
  const main = event.currentTarget.querySelector<HTMLButtonElement>("button.strong");
  if (!main || main.disabled) return;
  event.preventDefault();
  main.focus();
  // What the field took is drawn by then, so that the button acts on it.
  setTimeout(() => main.click());
}

export function Sheet({ title, onClose, children }: { title: string; onClose: () => void; children: ComponentChildren }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useId();

  useEffect(() => {
    const before = document.activeElement;
    const node = dialog.current!;
    node.showModal();
    return () => {
      node.close();
      // Opened by an address and not by a button, a sheet leaves the focus with the screen's heading.
      const after = before instanceof HTMLElement && before.isConnected && before !== document.body ? before : document.querySelector("h1");
      after?.focus({ preventScroll: true });
    };
  }, []);

  return (
    <dialog
      ref={dialog}
      class="sheet"
      aria-labelledby={heading}
      onKeyDown={pressMain}
      onCancel={(event) => { event.preventDefault(); onClose(); }}
      onClick={(event) => { if (event.target === dialog.current) onClose(); }}
    >
      <header>
        <h2 id={heading} tabIndex={-1} autofocus>{title}</h2>
        <Button kind="bare" icon="cross" label="Close" onClick={onClose} />
      </header>
      <div class="inside">{children}</div>
    </dialog>
  );
}
