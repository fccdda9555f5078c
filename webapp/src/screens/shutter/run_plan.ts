// Which speed to set next in a run, and when a speed has had enough firings.

export interface Tally { clear: number; kept: number }

/** Firings beyond the wanted number that a speed gets when some stay doubtful. */
const SPARE = 2;

export function hasEnough({ clear, kept }: Tally, wanted: number): boolean {
  return clear >= wanted || kept >= wanted + SPARE;
}

/** The next mark after `current` that has not enough yet, from slow to fast and round again; null when all have. */
export function nextMark(marks: readonly string[], tallyOf: (mark: string) => Tally, current: string, wanted: number): string | null {
  const from = marks.indexOf(current) + 1;
  return [...marks.slice(from), ...marks.slice(0, from)].find((mark) => !hasEnough(tallyOf(mark), wanted)) ?? null;
}
