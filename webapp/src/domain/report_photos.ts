// The photos of a report: numbered through it, each with the spots a person marked, numbered as they were marked.

import type { Catalogue } from "./catalogue.ts";
import { leakPlaces } from "./report_leaks.ts";
import type { ReportLeaks, ReportPhoto, ReportSpot } from "./report_records.ts";
import { groupOf } from "./report_scope.ts";
import { byKey, counted, distinct, listed, momentDay, placeWords, some, titleOf } from "./report_words.ts";
import { halfAway } from "./rounding.ts";

const SPOT_SHARE = 0.032;
const MANY = 2;
const BESIDE: Readonly<Record<string, string>> = { lamp_off: ", with the lamp off: light that shows here, too, did not come from the lamp", moved: ", from a little aside, with the lamp on" };

type File = NonNullable<ReportPhoto["file"]>;
export type Picture = ReturnType<typeof pictureOf>;

/**
 * The photos to be shown, oldest first, counted from `first`; those the sender left out are not among them.
 *
 * `spots` come in the order they were marked; `leaks` are the leak readings, one a photo. `here`: hashes whose bytes can be
 * shown; any other photo says that it is still on the phone.
 */
export function pictures(photos: readonly ReportPhoto[], spots: readonly ReportSpot[], leaks: readonly ReportLeaks[], here: readonly string[], first: number, catalogue: Pick<Catalogue, "checks" | "terms">): Picture[] {
  const shown = inOrder(photos);
  const numbers = new Map(shown.map(({ id }, index) => [id, first + index]));
  const beside = besideWords(leaks, numbers);
  return shown.map((photo) => pictureOf(photo, photo.file!, spots.filter((spot) => spot.photo === photo.id && spot.at), leaks.findLast((one) => one.photo === photo.id), numbers.get(photo.id)!, beside.get(photo.id) ?? "", here, catalogue));
}

/** The photos to be shown, as `pictures` gives them. */
export function inOrder(photos: readonly ReportPhoto[]): ReportPhoto[] {
  return photos.filter((photo) => photo.file && !photo.left_out).sort(byKey((photo) => [photo.taken?.ms ?? 0, photo.id]));
}

/** Photos that stand together; many stand closer on paper. */
export function gallery(shown: readonly Picture[]): { list: readonly Picture[]; many: boolean } | null {
  return shown.length > 0 ? { list: shown, many: shown.length > MANY } : null;
}

/** How many photos the sender left out, and of what. */
export function leftOutWords(photos: readonly ReportPhoto[], catalogue: Pick<Catalogue, "groups">): string {
  const out = photos.filter((photo) => photo.left_out);
  const of = listed(distinct(out.map(({ check }) => titleOf(catalogue.groups, groupOf(check))).filter((title) => title !== "")));
  return out.length > 0 ? `${counted(out.length, "photo was", "photos were")} left out by the sender${of ? ` (${of})` : ""}.` : "";
}

/** What each second photo of a leak reading was taken for, by its id. */
function besideWords(leaks: readonly ReportLeaks[], numbers: ReadonlyMap<string, number>): Map<string, string> {
  return new Map(leaks.flatMap(({ photo, second }) => (second && numbers.has(photo ?? "") ? [[second.photo, `Taken beside photo ${numbers.get(photo!)}${BESIDE[second.how] ?? ""}.`]] : [])));
}

function pictureOf(photo: ReportPhoto, file: File, spots: readonly ReportSpot[], searched: ReportLeaks | undefined, number: number, beside: string, here: readonly string[], catalogue: Pick<Catalogue, "checks" | "terms">) {
  const check = photo.check ?? null;
  const place = photo.place ?? "";
  const caption = photo.caption ?? "";
  const title = catalogue.checks.find(({ id }) => id === check)?.title ?? "";
  const about = [title, placeWords(place, catalogue)].filter((words) => words !== "").join(", ");
  const radius = halfAway(SPOT_SHARE * Math.max(file.width, file.height), 1);
  const shown = spots.map((spot, index) => spotOf(spot, index + 1, file, radius));
  return {
    number,
    anchor: `photo-${number}`,
    hash: file.hash,
    src: `photo/${file.hash}.jpg`,
    missing: !here.includes(file.hash),
    width: file.width,
    height: file.height,
    stroke: halfAway(radius / 7, 1),
    font: halfAway(radius * 1.25, 1),
    caption,
    beside,
    about,
    // A reader who cannot see it is told what it shows and that spots follow in words.
    alt: `Photo ${number}: ${caption || about || "the piece"}${shown.length > 0 ? `, with ${shown.length} marked spots` : ""}`,
    taken: momentDay(photo.taken),
    made_by_code: photo.origin === "made_by_code",
    spots: some(shown),
    leaks: searched ? leakPlaces(searched, file) : null,
    check,
    place,
  };
}

function spotOf(spot: ReportSpot, n: number, file: File, r: number) {
  const [x, y] = [spot.at!.x * file.width, spot.at!.y * file.height];
  // The number stands beside its ring, on whichever side has room.
  const beside = x < 0.8 * file.width ? x + 2 * r : x - 2 * r;
  return { n, x: halfAway(x, 1), y: halfAway(y, 1), r, number_x: halfAway(beside, 1), number_y: halfAway(y + r * 0.45, 1), label: spot.label ?? "" };
}
