// The hybrid logical clock: stamps whose string order is the order of cause and effect, whatever the wall clocks say.
//
// After Kulkarni, Demirbas, Madappa, Avva and Leone, "Logical Physical Clocks" (2014): the pair (ms, counter) strictly
// increases along every chain of send and receive; the device id breaks ties. A stamp is fixed-width text.

const STAMP = /^([0-9]{15})\.([0-9]{6})\.([0-9a-f]{32})$/;
const LAST_COUNTER = 999_999;
const LAST_MS = 999_999_999_999_999;

type Reached = readonly [ms: number, counter: number];

/** The stamp of an event on this device after `last`; `nowMs` is the wall clock (UTC), which may jump freely. */
export function tick(last: string | null, nowMs: number, device: string): string {
  return after(reached(last), nowMs, device);
}

/** The stamp of having seen `remote` after `last`: later than both, so what is done next never loses to either. */
export function receive(last: string | null, remote: string, nowMs: number, device: string): string {
  const [mine, theirs] = [reached(last), reached(remote)];
  const later = mine[0] !== theirs[0] ? mine[0] > theirs[0] : mine[1] > theirs[1];
  return after(later ? mine : theirs, nowMs, device);
}

/** [ms, counter, device] of a stamp. Throws RangeError if it is none. */
export function parse(stamp: string): [ms: number, counter: number, device: string] {
  const match = STAMP.exec(stamp);
  if (!match) throw new RangeError(`not a stamp: ${stamp}`);
  return [Number(match[1]), Number(match[2]), match[3]!];
}

function reached(stamp: string | null): Reached {
  if (stamp === null) return [-1, 0];
  const [ms, counter] = parse(stamp);
  return [ms, counter];
}

function after([ms, counter]: Reached, nowMs: number, device: string): string {
  // A save never fails because of a clock: one before 1970, or beyond the text's width, is held at the edge.
  const now = Math.min(Math.max(Math.trunc(nowMs), 0), LAST_MS);
  if (now > ms) [ms, counter] = [now, 0];
  else if (counter < LAST_COUNTER) counter += 1;
  else [ms, counter] = [ms + 1, 0];
  return `${String(ms).padStart(15, "0")}.${String(counter).padStart(6, "0")}.${device}`;
}
