// What to call one record in a history: the check and place it is about, or its kind.
import type { Catalogue } from "../../domain/catalogue.ts";
import type { Rec } from "../../store/store.ts";
import { address } from "../../ui/route.ts";
import { pieceTitle } from "../visit/piece_title.ts";
import { placeWords, speedWords, within } from "../visit/words.ts";

interface Held { id: string; kind: string; fields: Record<string, { value: unknown } | undefined> }

const NAMES: Record<string, string> = {
  session: "The sale", piece: "The piece", photo: "Photo", leak_reading: "Light in a dark photo", spot: "Spot on a photo", recording: "Sound", mark: "Marks of a firing", repair: "Repair", film_test: "Film test",
  seller: "Seller", dealing: "Dealing", deal: "What became of it", publication: "Report", remedy_cost: "Cost of a remedy", want: "Something looked for", price_note: "Price noted", kit_item: "Thing you own", inquiry: "Questions to the seller",
};

const own = (record: Held, field: string): any => record.fields[field]?.value;

export function recordTitle(record: Held, catalogue: Catalogue): string {
  const check = catalogue.checks.find((one) => one.id === own(record, "check"));
  const where = placeWords(String(own(record, "place") ?? ""));
  const at = [check?.title, where].filter(Boolean).join(", ");
  switch (record.kind) {
    case "visit": return `Look ${own(record, "tag") ?? ""}, ${within(catalogue.terms.occasions.find((one) => one.id === own(record, "occasion"))?.title ?? "at the sale")}`;
    case "answer": return at || "Answer";
    case "claim": return `Claim: ${at}`;
    case "reading": return [check?.readings.find((one) => one.id === own(record, "reading"))?.title ?? "Reading", where].filter(Boolean).join(", ");
    case "photo": return at ? `Photo: ${at}` : "Photo";
    case "take": return `Firing at ${speedWords(String(own(record, "intent")?.marked?.text ?? "?"))}`;
    case "publication": return `Report, version ${own(record, "version") ?? "?"}`;
    default: return NAMES[record.kind] ?? record.kind.replaceAll("_", " ");
  }
}

/** What to call a record where another names it: by its own name, if it has one. */
export function nameOf(record: Rec, catalogue: Catalogue): string {
  switch (record.kind) {
    case "session": return record.values["title"] || record.values["place"] || "a sale";
    case "seller": return record.values["name"] || "a seller without a name";
    case "piece": return pieceTitle(record);
    default: return recordTitle(record, catalogue);
  }
}

/** Where a record is looked at and edited; null where no screen shows it alone. */
export function recordAddress(record: Held): string | null {
  const [visit, check, place] = [own(record, "visit"), own(record, "check"), own(record, "place")];
  switch (record.kind) {
    case "answer": case "reading": case "claim": return visit && check ? address("/visit", visit, "/check", check, { place: place ?? "" }) : null;
    case "photo": return visit ? address("/visit", visit, "/photo", record.id) : null;
    case "leak_reading": return visit ? address("/visit", visit, "/leaks", { photo: String(own(record, "photo") ?? "") }) : null;
    case "take": return visit ? address("/visit", visit, "/shutter") : null;
    case "visit": return address("/visit", record.id);
    case "session": return address("/session", record.id);
    case "seller": return address("/seller", record.id);
    default: return null;
  }
}
