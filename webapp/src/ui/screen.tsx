// The frame of every screen: bar with the way back, one heading that takes focus on arrival, the page, and a foot under the thumb.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Button } from "./button.tsx";

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
  children?: ComponentChildren;
}

export function Screen({ title, over, back, backWord = "Back", actions, under, foot, focusOn, children }: ScreenProps) {
  const heading = useRef<HTMLHeadingElement>(null);

  useEffect(() => {
    window.scrollTo(0, 0);
    heading.current?.focus({ preventScroll: true });
  }, [focusOn]);

  useEffect(() => { document.title = `${title} · Barnlight`; }, [title]);

  return (
    <>
      <header class="bar">
        {back === undefined ? <span /> : <Button icon="back" label={backWord} href={back} />}
        <h1 ref={heading} tabIndex={-1} class={back === undefined ? "brand" : undefined}>
          {over && <span class="over">{over}</span>}
          {title}
        </h1>
        <div class="row">{actions}</div>
      </header>
      {under}
      <main class="page">{children}</main>
      {foot && <div class="foot">{foot}</div>}
    </>
  );
}
