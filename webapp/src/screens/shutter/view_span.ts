// Which part of a sound a waveform shows: nearer, farther, along, and close round a firing; always inside of the sound.

/** Seconds from the start of the sound. */
export interface Span { from_s: number; to_s: number }
export interface Marks { open_s: number; close_s: number }

/** The closest look, seconds: a tenth of a millisecond is then a finger's breadth. */
const LEAST_S = 0.003;
/** Shown on either side of a mark when close up. */
const CLOSE_S = 0.012;
/** Shown on either side of a firing, at least; a long one gets more. */
const BESIDE_S = 0.015;
const BESIDE_SHARE = 0.6;

const widthOf = ({ from_s, to_s }: Span) => to_s - from_s;

/** A span of that width from that moment on, brought inside of the sound. */
function inside(fromS: number, widthS: number, lengthS: number): Span {
  const width = Math.min(lengthS, Math.max(LEAST_S, widthS));
  const from = Math.min(Math.max(0, fromS), lengthS - width);
  return { from_s: from, to_s: from + width };
}

/** Shows `share` of what was shown (below 1 is nearer); the moment `aboutS` stays where it is. */
export function zoomed(span: Span, share: number, aboutS: number, lengthS: number): Span {
  const width = Math.min(lengthS, Math.max(LEAST_S, widthOf(span) * share));
  const at = (aboutS - span.from_s) / widthOf(span);
  return inside(aboutS - at * width, width, lengthS);
}

/** Goes along by a share of what is shown; above 0 is later. */
export function along(span: Span, share: number, lengthS: number): Span {
  return inside(span.from_s + share * widthOf(span), widthOf(span), lengthS);
}

/** Two moments that two fingers hold, each at its share of the width, 0..1. */
export function pinched(first: { s: number; at: number }, second: { s: number; at: number }, lengthS: number): Span {
  // Fingers side by side would mean a view without end.
  const apart = Math.abs(second.at - first.at) < 0.02 ? 0.02 : second.at - first.at;
  const width = Math.abs((second.s - first.s) / apart);
  return inside(first.s - first.at * width, width, lengthS);
}

/** A firing with room on either side. */
export function round({ open_s, close_s }: Marks, lengthS: number): Span {
  const beside = Math.max(BESIDE_S, BESIDE_SHARE * (close_s - open_s));
  return inside(open_s - beside, close_s - open_s + 2 * beside, lengthS);
}

/** Close up round one moment. */
export function close(atS: number, lengthS: number): Span {
  return inside(atS - CLOSE_S, 2 * CLOSE_S, lengthS);
}

/** How far an arrow key moves a mark, seconds: fine is about what the eye can place, coarse follows what is shown. */
export function steps(span: Span): { fine_s: number; coarse_s: number } {
  return { fine_s: 0.0001, coarse_s: Math.max(0.001, widthOf(span) / 40) };
}
