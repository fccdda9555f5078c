// The person's wants as the domain takes them, and how long such things took to turn up.
import type { RestingWant } from "../../domain/wants.ts";
import type { Money } from "../../domain/money.ts";
import { chanceWithin, medianWait, survival, type Wait, type WaitStep, waitsOf } from "../../domain/waiting.ts";
import { useLive } from "../../store/live.ts";
import type { Store } from "../../store/store.ts";
import { kept, plain } from "../visit/view.ts";

export interface KeptWant extends RestingWant {
  readonly id: string;
  readonly what?: string;
  readonly group?: string;
  readonly most?: Money | null;
  readonly why?: string;
  readonly piece?: string | null;
}

/** Found ones that a curve needs before it is believed at all. */
export const LEAST_FOUND = 3;

export async function readWants(store: Store): Promise<KeptWant[]> {
  return ((await store.byKind("want")).filter(kept).map(plain) as KeptWant[]).sort((a, b) => (a.wanted ?? "").localeCompare(b.wanted ?? "") || a.id.localeCompare(b.id));
}

/** Undefined while they are read. */
export const useWants = (): KeptWant[] | undefined => useLive(readWants, []);

export const isOpen = ({ found, dropped }: KeptWant): boolean => !found && !dropped;

export interface Waiting {
  readonly waits: readonly Wait[];
  readonly steps: readonly WaitStep[];
  readonly found: number;
  readonly open: number;
  readonly median: ReturnType<typeof medianWait>;
  within(weeks: number): ReturnType<typeof chanceWithin>;
}

export function waitingOf(wants: readonly KeptWant[], today: string): Waiting {
  const waits = waitsOf(wants, today);
  const steps = survival(waits);
  const found = waits.filter((wait) => wait.found).length;
  return { waits, steps, found, open: waits.length - found, median: medianWait(steps), within: (weeks) => chanceWithin(steps, weeks) };
}

/** Of the want's own group where enough of it were found, else of all wants. */
export function likeWants(want: KeptWant, wants: readonly KeptWant[], today: string): { of: "group" | "all"; waiting: Waiting } {
  const group = want.group ? waitingOf(wants.filter((one) => one.group === want.group), today) : null;
  return group && group.found >= LEAST_FOUND ? { of: "group", waiting: group } : { of: "all", waiting: waitingOf(wants, today) };
}
