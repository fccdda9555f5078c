// Round figures along the axis of a chart, from nought up.

/** 0, then every 1, 2 or 5 times a power of ten, at most `count` steps, the last at or above `most`. The step is at least 1. */
export function roundTicks(most: number, count: number): number[] {
  for (let power = 1; ; power *= 10) {
    for (const times of [1, 2, 5]) {
      const step = times * power;
      const steps = Math.max(Math.ceil(most / step), 1);
      if (steps <= count) return Array.from({ length: steps + 1 }, (_, at) => step * at);
    }
  }
}
