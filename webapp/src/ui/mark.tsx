// Outcome marks: one shape and one colour a tone, always with a word (shown, or read aloud).

export type Tone = "good" | "worn" | "bad" | "unsure" | "none";

/** Filled shapes with a cut-out sign, so that they differ in grey and at arm's length. */
const SHAPES: Record<Tone, { body: string; sign: string }> = {
  good: { body: "M12 1.5a10.5 10.5 0 1 0 0 21 10.5 10.5 0 0 0 0-21z", sign: "M6.5 12.5l4 4 7-8.5" },
  worn: { body: "M12 1 23 12 12 23 1 12z", sign: "M6.5 12.5c2-3 3.5-3 5.5-.5s3.5 2.5 5.5-.5" },
  bad: { body: "M7.5 1.5h9l6 6v9l-6 6h-9l-6-6v-9z", sign: "M8 8l8 8M16 8l-8 8" },
  unsure: { body: "M12 2 22.5 21.5h-21z", sign: "M9.9 12.2c0-1.6 1-2.5 2.2-2.5s2.2.9 2.2 2.1c0 1.7-2.2 1.8-2.2 3.6M12.1 18v.6" },
  none: { body: "M2.5 2.5h19v19h-19z", sign: "M7 12h10" },
};

export function MarkShape({ tone, hollow = false }: { tone: Tone; hollow?: boolean }) {
  const { body, sign } = SHAPES[tone];
  return (
    <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d={body} fill={hollow ? "none" : "currentColor"} stroke="currentColor" stroke-width={hollow ? 2 : 0} />
      <path d={sign} fill="none" stroke={hollow ? "currentColor" : "var(--card)"} stroke-width="2.6" stroke-linecap="round" stroke-linejoin="round" />
    </svg>
  );
}

/** `quiet` leaves the word to screen readers only. */
export function Mark({ tone, word, quiet = false, hollow = false }: { tone: Tone; word: string; quiet?: boolean; hollow?: boolean }) {
  return (
    <span class={`mark ${tone}`}>
      <MarkShape tone={tone} hollow={hollow} />
      <span class={quiet ? "only-read" : undefined}>{word}</span>
    </span>
  );
}
