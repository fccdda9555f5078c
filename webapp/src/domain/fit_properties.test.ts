// What must hold for any figures of light, film plane and fit on the phone: units there and back, symmetry, more is never less.

import fc from "fast-check";
import { expect, test } from "vitest";
import { bellowsFactor, extensionFor, magnificationAt } from "./bellows.ts";
import { room } from "./coverage.ts";
import { focusError } from "./focus.ts";
import { blurAt, goneAt } from "./focus_blur.ts";
import { keepTogether } from "./holder_set.ts";
import { pointDoubt } from "./holder_side.ts";
import { MM_PER_INCH, parseLength } from "./lengths.ts";
import { figure, standardU } from "./uncertainty.ts";

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const depth = real(2, 15);

test("a depth typed in inches is the same depth in mm, and noticed where the unit was not said", () => {
  fc.assert(fc.property(fc.integer({ min: 80, max: 500 }), (thousandths) => {
    const text = (thousandths / 1000).toFixed(3);
    expect(parseLength(text, "in")).toBeCloseTo((thousandths / 1000) * MM_PER_INCH, 9);
    expect(pointDoubt(parseLength(text, "mm"), [], { plausible: { low: 2, high: 15 } })?.likely_unit).toBe("in");
  }));
});

test("screen and film swapped turn the error round", () => {
  fc.assert(fc.property(depth, depth, real(0, 0.5), (screen, film, u) => {
    const [there, back] = [focusError(figure(screen, u), figure(film, u)), focusError(figure(film, u), figure(screen, u))];
    expect(there.error_mm.value).toBeCloseTo(-back.error_mm.value, 9);
    expect(standardU(there.error_mm)).toBeCloseTo(standardU(back.error_mm), 9);
  }));
});

test("blur falls as the lens is stopped down, and is gone where it is said to be", () => {
  const stops = [4, 5.6, 8, 11, 16, 22, 32, 45];
  fc.assert(fc.property(real(-2, 2), real(0, 0.5), real(0.01, 0.5), (error, u, circle) => {
    const rows = blurAt(figure(error, u), stops, circle);
    rows.slice(1).forEach((row, index) => expect(row.blur_mm.high).toBeLessThanOrEqual(rows[index]!.blur_mm.high));
    expect(goneAt(figure(error, u), stops, circle).surely).toBe(rows.find(({ gone }) => gone === "yes")?.n ?? null);
  }));
});

test("room in the circle is the same with the picture turned", () => {
  fc.assert(fc.property(real(50, 900), real(20, 400), real(20, 400), (circle, width, height) => {
    expect(room(circle, width, height).rise_mm).toBe(room(circle, height, width).shift_mm);
  }));
});

test("magnification there and back, and more of it asks for more light", () => {
  fc.assert(fc.property(real(20, 1000), real(0.01, 2), (focal, m) => {
    const extension = extensionFor(m, focal);
    expect(magnificationAt(extension, focal)).toBeCloseTo(m, 6);
    expect(bellowsFactor(extension * 1.1, focal).stops).toBeGreaterThan(bellowsFactor(extension, focal).stops);
  }));
});

test("every holder is kept once, and no group is wider than its span", () => {
  fc.assert(fc.property(fc.array(fc.tuple(depth, depth), { minLength: 1, maxLength: 8 }), real(0.01, 3), (pairs, span) => {
    const sides = pairs.flatMap(([a, b], number) => [
      { place: `holder=${number};side=a`, mean_mm: figure(a, 0.01) },
      { place: `holder=${number};side=b`, mean_mm: figure(b, 0.01) },
    ]);
    const { groups, apart } = keepTogether(sides, span);
    const named = [...groups.flatMap(({ holders }) => holders), ...apart.map(({ holder }) => holder)];
    expect([...named].sort()).toEqual(pairs.map((_, number) => String(number)).sort());
    for (const { spread_mm } of groups) expect(spread_mm).toBeLessThanOrEqual(span + 0.001);
  }));
});
