// Which place or check comes next, so that nothing already answered is asked again unless the person goes there.

export interface Step { check: string; place: string }

export interface StepsInput {
  /** Ids in the order of the pass or group. */
  order: readonly string[];
  placesOf: (check: string) => readonly string[];
  answered: (check: string, place: string) => boolean;
}

/** The first place of a check without an answer, searched from `after` on and then from the start. */
function openPlace({ placesOf, answered }: StepsInput, check: string, after: string | null): string | null {
  const all = placesOf(check);
  const start = after === null ? 0 : all.indexOf(after) + 1;
  const turned = [...all.slice(start), ...all.slice(0, start)];
  return turned.find((place) => place !== after && !answered(check, place)) ?? null;
}

/** The step after an answer: another place of the same check, else the next open check of the order, else null: all done. */
export function nextStep(input: StepsInput, now: Step): Step | null {
  const same = openPlace(input, now.check, now.place);
  return same === null ? laterStep(input, now) : { check: now.check, place: same };
}

/** The step for "later": the next open check, leaving this one as it is; null at the end of the order. */
export function laterStep(input: StepsInput, now: Step): Step | null {
  for (const check of input.order.slice(input.order.indexOf(now.check) + 1)) {
    const place = openPlace(input, check, null);
    if (place !== null) return { check, place };
  }
  return null;
}

/** The step before this one, answered or not: another place of the same check, else the last place of the check before; null at the start. */
export function stepBefore({ order, placesOf }: StepsInput, now: Step): Step | null {
  const places = placesOf(now.check);
  const at = places.indexOf(now.place);
  if (at > 0) return { check: now.check, place: places[at - 1]! };
  const check = order[order.indexOf(now.check) - 1];
  return check === undefined ? null : { check, place: placesOf(check).at(-1) ?? "" };
}

/** The step forward from one gone back to: on past what has its answer, and from one without as "later" does. */
export function stepForward(input: StepsInput, now: Step): Step | null {
  return input.answered(now.check, now.place) ? nextStep(input, now) : laterStep(input, now);
}

/** The neighbour in the order, answered or not; null at either end. */
export function neighbour({ order, placesOf }: StepsInput, now: Step, by: 1 | -1): Step | null {
  const check = order[order.indexOf(now.check) + by];
  return check === undefined || !order.includes(now.check) ? null : { check, place: placesOf(check)[0] ?? "" };
}

/** The place to stand at when a check is called up: the one wanted where there is such, else the first open one, else the first. */
export function placeAt(input: StepsInput, check: string, wanted: string | undefined): string {
  const all = input.placesOf(check);
  return wanted !== undefined && all.includes(wanted) ? wanted : openPlace(input, check, null) ?? all[0] ?? "";
}

/** Where a pass begins or is taken up again: the first open place; null when nothing is open. */
export function firstOpen(input: StepsInput): Step | null {
  for (const check of input.order) {
    const place = openPlace(input, check, null);
    if (place !== null) return { check, place };
  }
  return null;
}

/** The same way with places counted as answered that were tapped a moment ago and may not have been read back yet. */
export function withAnswered(input: StepsInput, check: string, places: readonly string[]): StepsInput {
  return { ...input, answered: (id, place) => (id === check && places.includes(place)) || input.answered(id, place) };
}
