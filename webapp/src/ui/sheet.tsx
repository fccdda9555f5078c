// A sheet that rises from the bottom edge: the browser's own dialog keeps focus inside and closes it with Esc.
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";
import { Button } from "./button.tsx";

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
