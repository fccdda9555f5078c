// The frame of every screen: bar with the way back, one heading that takes focus on arrival, the page, and a foot under the thumb.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Button } from "./button.tsx";
import { stepBackTo } from "./route.ts";
import { useRoom } from "./use_room.ts";

export interface ScreenProps {
  title: string;
  /** A short line above the title: where this belongs. */
  over?: ComponentChildren;
  /** Address the back arrow leads to; none on the first screen. */
  back?: string;
  backWord?: string;
  actions?: ComponentChildren;
  /** Between bar and page: the tag bar of a visit. */
  under?: ComponentChildren;
  foot?: ComponentChildren;
  /** When this text changes the heading takes focus again, as on a new check under the same address. */
  focusOn?: string;
  /** A name under which the place in a long page is kept, so that coming back finds it where it was left. */
  keepPlace?: string;
  children?: ComponentChildren;
}

/** How far down each kept page was left, px. */
const places = new Map<string, number>();

export function Screen({ title, over, back, backWord = "Back", actions, under, foot: footPart, focusOn, keepPlace, children }: ScreenProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  const foot = useRef<HTMLElement>(null);

  useEffect(() => {
    window.scrollTo(0, keepPlace === undefined ? 0 : places.get(keepPlace) ?? 0);
    heading.current?.focus({ preventScroll: true });
    if (keepPlace === undefined) return undefined;
    // A page that goes away shrinks, and its last scroll event would say 0.
    const note = () => { if (heading.current?.isConnected) places.set(keepPlace, window.scrollY); };
    addEventListener("scroll", note, { passive: true });
    return () => removeEventListener("scroll", note);
  }, [focusOn, keepPlace]);

  // A word at the bottom stands on the foot, not over its buttons.
  useRoom(foot, "--foot-room", footPart !== undefined);

  useEffect(() => { document.title = `${title} · Barnlight`; }, [title]);

  return (
    <>
      <header class="bar">
        {back === undefined ? <span /> : <Button icon="back" label={backWord} href={back} onClick={(event) => { if (stepBackTo(back)) event.preventDefault(); }} />}
        <h1 ref={heading} tabIndex={-1} class={back === undefined ? "brand" : undefined}>
          {over && <span class="over">{over}</span>}
          {title}
        </h1>
        <div class="row">{actions}</div>
      </header>
      {under !== undefined && <aside aria-label="At a glance">{under}</aside>}
      <main class="page" id="main" tabIndex={-1}>{children}</main>
      {footPart !== undefined && <section class="foot" ref={foot} aria-label="What to do">{footPart}</section>}
    </>
  );
}
