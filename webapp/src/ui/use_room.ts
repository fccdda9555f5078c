// Tells the styles how much room a bar at the bottom of the screen takes, so that nothing else need lie under it.
import type { RefObject } from "preact";
import { useLayoutEffect } from "preact/hooks";

/** Keeps `name` at the height of `bar`, in px; 0 while there is none. */
export function useRoom(bar: RefObject<HTMLElement | null>, name: `--${string}`, isThere: boolean): void {
  useLayoutEffect(() => {
    const { style } = document.documentElement;
    const node = bar.current;
    if (!node) {
      style.setProperty(name, "0px");
      return undefined;
    }
    const watch = new ResizeObserver(() => style.setProperty(name, `${node.offsetHeight}px`));
    watch.observe(node);
    return () => watch.disconnect();
  }, [isThere]);
}
