// From a photo, the recorder, the leak finder or a measuring tool back to where it was called up: the step of a pass, the check, or the piece.
import { useMemo } from "preact/hooks";
import { type Address, address, cameFrom, here, match } from "../../ui/route.ts";

const STEPS = ["/visit/:visit", "/visit/:visit/pass/:pass", "/visit/:visit/check/:check", "/visit/:visit/after"] as const;

/** The hash of `before` where it is the piece, one of its checks, alone or in a pass, or what came after the deal; null for any other place. */
export function stepOf(before: Address | null, visit: string): string | null {
  const found = before && STEPS.some((pattern) => match(pattern, before.path)?.["visit"] === visit);
  return found ? address(before.path, before.query) : null;
}

/** By path, so that a way on from there and back again still knows it; for as long as the app is open. */
const known = new Map<string, string>();

/** Where back leads from the path that is open; `otherwise` when the person did not come from this piece. */
export function wayBack(visit: string, otherwise: string): string {
  const { path } = here.peek();
  const step = stepOf(cameFrom(), visit);
  if (step) known.set(path, step);
  return known.get(path) ?? otherwise;
}

/** The same for the bar of a tool's screen, with its word: otherwise to the check that is given, or to the piece. */
export function useWayBack(visit: string, check?: string | null, place?: string): { back: string; backWord: string } {
  const otherwise = check ? address("/visit", visit, "/check", check, { place }) : address("/visit", visit);
  const back = useMemo(() => wayBack(visit, otherwise), [visit, otherwise]);
  return { back, backWord: back === address("/visit", visit) ? "Back to the piece" : "Back to the check" };
}
