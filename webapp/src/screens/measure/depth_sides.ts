// What a book of typed depths amounts to: the shape of each side, and the set as a whole.
import type { Catalogue } from "../../domain/catalogue.ts";
import { type JudgedSet, judgeSet, usualSpan } from "../../domain/holder_set.ts";
import { type SideShape, sideShape } from "../../domain/holder_side.ts";
import { placeText } from "../../domain/ids.ts";
import type { Typed } from "./depth_book.ts";
import { mmOf, placed } from "./depth_entry.ts";

export interface SideResult {
  /** "holder=3;side=a". */
  readonly place: string;
  /** "3 A". */
  readonly label: string;
  readonly shape: SideShape;
}

/** The sides that have points, in the order they are asked for; each with the interval of the coarsest tool it was read with. */
export function sidesOf(order: readonly string[], typed: ReadonlyMap<string, Typed>, { terms }: Pick<Catalogue, "terms">): SideResult[] {
  const sides = new Map<string, { points: Record<string, number>; tools: string[]; label: string }>();
  for (const place of order) {
    const one = typed.get(place);
    const mm = one ? mmOf(one) : null;
    if (!one || mm === null) continue;
    const { holder, side, point } = placed(place);
    const key = placeText({ holder, side });
    const known = sides.get(key) ?? { points: {}, tools: [], label: `${holder} ${side.toUpperCase()}` };
    sides.set(key, { ...known, points: { ...known.points, [point]: mm }, tools: [...known.tools, one.tool] });
  }
  return [...sides].map(([place, { points, tools, label }]) => {
    const instruments = terms.instruments.filter(({ id }) => tools.includes(id)).sort((one, other) => other.resolution_mm - one.resolution_mm);
    return { place, label, shape: sideShape(points, instruments[0] ?? terms.instruments[0]!) };
  });
}

export interface SetResult { readonly judged: JudgedSet; readonly span_mm: number; readonly rule_source: string }

/** Null without a side. */
export function setOf(sides: readonly SideResult[], format: string | null, catalogue: Catalogue): SetResult | null {
  if (sides.length === 0) return null;
  const { span_mm, source } = usualSpan(format, catalogue);
  return { judged: judgeSet(sides.map(({ place, shape }) => ({ place, mean_mm: shape.mean_mm })), format, catalogue, span_mm), span_mm, rule_source: source };
}
