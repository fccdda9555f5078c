// Depths of holders already measured: of the person's own kit, and of what lies beside the camera.
import { type NamedThing, useKit } from "../kit/things.ts";

export interface KnownDepth { readonly title: string; readonly mm: number }

/** Holders with a depth; empty while they are read. */
export function useKnownDepths(lot: readonly NamedThing[] | undefined): KnownDepth[] {
  const kit = useKit();
  return [...(kit ?? []), ...(lot ?? [])].flatMap(({ kind, title, facts }) => {
    const mm = facts["depth_mm"];
    return kind === "holders" && typeof mm === "number" ? [{ title, mm }] : [];
  });
}
