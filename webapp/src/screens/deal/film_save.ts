// Saves a film test together with what it proved: a visit of its own, and the answer at the check that the film speaks about.
import { moment } from "../../device/moment.ts";
import type { Check } from "../../domain/catalogue.ts";
import { speedValue, type SpeedMark } from "../../domain/checks.ts";
import { answerId, placeText } from "../../domain/ids.ts";
import { randomId } from "../../store/random_id.ts";
import type { RecordValues, Store } from "../../store/store.ts";
import { openPieces, type VisitView } from "../visit/view.ts";
import { nextTag } from "../visit/words.ts";

export interface FilmTest {
  day: string;
  holder: string;
  side: string;
  speed: SpeedMark | null;
  stop: string;
  found: string;
  /** What it speaks about; null where it speaks of nothing in particular. */
  check: Check | null;
  /** Id of the fault that showed; null where all was as it should be. */
  fault: string | null;
}

/** Where on the piece the film was made, as far as the check asks for it; the whole piece where it asks for more than a film knows. */
export function placeOf(check: Check, { holder, side, speed }: Pick<FilmTest, "holder" | "side" | "speed">): string {
  const known: Record<string, string | null> = { holder: holder.trim().toLowerCase(), side, speed: speed && speedValue(speed) };
  const said = Object.fromEntries(check.axes.map((axis) => [axis, known[axis] ?? ""]));
  if (check.axes.length === 0 || Object.values(said).some((value) => !/^[a-z0-9_./]+$/.test(value))) return "";
  return placeText(said);
}

/** One transaction; gives the way back, which takes all of it off again. */
export async function saveFilmTest(store: Store, view: VisitView, test: FilmTest): Promise<() => Promise<void>> {
  const { day, holder, side, speed, stop, found, check, fault } = test;
  const piece = view.piece.id;
  const records: RecordValues[] = [{
    kind: "film_test", id: randomId(),
    values: { piece, day, setup: { ...(holder && { holder }), ...(side && { side }), speed, stop: stop || null }, check: check?.id ?? null, found },
  }];
  if (check) {
    const session = view.session?.id ?? null;
    const tags = session ? (await openPieces(store, session)).map((one) => String(one.visit.values["tag"])) : [];
    const visit = randomId();
    const place = placeOf(check, test);
    const result = fault ? { outcome: "faulty", faults: [fault], at: moment() } : { outcome: "in_order", at: moment() };
    records.push(
      { kind: "visit", id: visit, values: { session, piece, occasion: "film_test", tag: nextTag(tags), began: moment() } },
      { kind: "answer", id: answerId(visit, check.id, place), values: { visit, check: check.id, place, result, remark: found.slice(0, 1000) } },
    );
  }
  await store.setAll(records);
  return () => store.setAll(records.map(({ kind, id }) => ({ kind, id, values: { deleted: true } })));
}
