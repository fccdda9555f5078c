// Notices that a form is left for good: focus goes elsewhere on the page, the screen goes, or the phone is put away.
import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";

/** Calls `onLeave` each time. Not where focus goes nowhere, as when the keyboard is folded away to read what stands behind it. */
export function useLeaving(form: RefObject<HTMLElement | null>, onLeave: () => void): void {
  const told = useRef(onLeave);
  told.current = onLeave;
  useEffect(() => {
    const node = form.current;
    const onFocusOut = ({ relatedTarget }: FocusEvent) => { if (relatedTarget instanceof Node && !node?.contains(relatedTarget)) told.current(); };
    const onHidden = () => { if (document.visibilityState === "hidden") told.current(); };
    node?.addEventListener("focusout", onFocusOut);
    document.addEventListener("visibilitychange", onHidden);
    return () => {
      node?.removeEventListener("focusout", onFocusOut);
      document.removeEventListener("visibilitychange", onHidden);
      told.current();
    };
  }, []);
}
