// A lettered tag: letter, shape and colour together tell pieces apart on a crowded table.

/** Circle, square, triangle, diamond, star, cross, heart, hexagon: the order the tag letters run in. */
const SHAPES = [
  "M12 1a11 11 0 1 0 0 22 11 11 0 0 0 0-22z",
  "M2 2h20v20H2z",
  "M12 0 24.5 22.5h-25z",
  "M12 0 24 12 12 24 0 12z",
  "M12 0l3.3 7 7.7 1-5.6 5.4L18.8 21 12 17.3 5.2 21l1.4-7.6L1 8l7.7-1z",
  "M7 1h10v6h6v10h-6v6H7v-6H1V7h6z",
  "M12 23C5 17.5 1 13 1 8c0-3.8 2.7-6.5 6-6.5 2.2 0 4 1.2 5 3 1-1.8 2.8-3 5-3 3.3 0 6 2.7 6 6.5 0 5-4 9.5-11 15z",
  "M6 1h12l6 11-6 11H6L0 12z",
] as const;

/** Position of a letter in the round of eight shapes and colours; A = 0. */
export function tagTurn(letter: string): number {
  const turn = (letter.toUpperCase().codePointAt(0) ?? 65) - 65;
  return ((turn % SHAPES.length) + SHAPES.length) % SHAPES.length;
}

export function Tag({ letter }: { letter: string }) {
  const turn = tagTurn(letter);
  return (
    <span class={`tag tone-${turn + 1}${turn === 2 ? " low" : ""}`}>
      <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d={SHAPES[turn]} fill="currentColor" /></svg>
      <b><span class="only-read">tag </span>{letter}</b>
    </span>
  );
}
