// What the fields of a record are called on the screens where they are typed.

const FIELDS: Record<string, Record<string, string>> = {
  session: { title: "Name", venue_kind: "Kind of venue", seller: "Seller", place: "Place", day: "Day", began: "Begun", asking: "Price for the whole lot", remote: "Judged from afar", note: "Private note", closed: "Closed" },
  piece: {
    kind: "Kind", type: "Type", title: "Name", shutter_kind: "Kind of shutter", format: "Format", marks: "What it says on it", holders: "The set", speeds: "Speeds marked on it",
    screen_stack: "Order at the screen", comes_with: "What comes with it", parts_only: "Parts only", note: "Private note",
  },
  visit: {
    session: "Sale", piece: "Piece", occasion: "Occasion", tag: "Letter", asking: "Asking price of this piece", began: "Begun", pass: "Pass", sample: "Sample of the set",
    temperature: "Temperature", inspector: "Who looked", note: "Private note",
  },
  answer: { result: "Answer", remark: "Remark for the report", note: "Private note" },
  claim: { asserted: "Claimed", words: "Words", day: "Day", by: "Said by", evidence: "What stands behind it", photo: "Photo" },
  reading: { typed: "Figure", instrument: "Read with", at: "Read at" },
  photo: { visit: "Belongs to", check: "Taken at the check", place: "Place", file: "Picture", taken: "Taken", origin: "Comes from", caption: "Caption", left_out: "Left out of the report" },
  spot: { at: "Spot", label: "Words" },
  leak_reading: { photo: "In the photo", machine: "The machine found", region: "Part of the photo that counts", marks: "What was said of the places", second: "Second photo" },
  recording: { visit: "Belongs to", file: "Sound", made: "Recorded", origin: "Comes from", capture: "How the phone recorded" },
  take: { intent: "Meant for", conditions: "Conditions", at: "Fired" },
  mark: { moved: "Marks set by hand" },
  repair: { remedy: "Remedy", who: "Who", sent: "Sent", promised: "Promised", back: "Back", cost: "Cost", what: "What was done", note: "Private note" },
  film_test: { day: "Day", setup: "Set up", check: "About the check", found: "What it showed", photo: "Photo" },
  seller: { name: "Name or handle", venue_kind: "Kind of venue", place: "Place", note: "Note", same_as: "Same person as" },
  dealing: { seller: "Seller", session: "Sale", piece: "Piece", day: "Day", outcome: "How it went", facets: "What was good and what was not", knew: "Did they know", note: "Note" },
  inquiry: { asked: "Questions asked", arrived: "Arrived", return_until: "May go back until", returns: "Said about sending it back", replies: "Their answers" },
  deal: { decision: "Bought or passed", paid: "Paid", day: "Day", terms: "Figures of the deal" },
  remedy_cost: { cost: "Your cost", weeks: "Weeks it takes" },
  price_note: { what: "What it was", group: "Group", day: "Day", price: "Price", sold: "Sold", state: "State", venue_kind: "Kind of venue", included: "What was in the price", note: "Private note" },
  exchange_rate: { from: "From", to: "Into", minor_per_minor: "Rate", day: "Day" },
  money_habits: { habits: "How it is reckoned" },
  want: { what: "What it is", group: "Group", most: "Most you would pay", why: "Why", wanted: "Wanted since", found: "Found", dropped: "Let go", piece: "Piece", rest_days: "Days of rest", stands: "Said to stand" },
  kit_item: { kind: "Kind", title: "What you call it", facts: "Its figures" },
  publication: { version: "Version", published: "Made", title: "Title" },
};

/** Where a record hangs, said already by what it is called; news only when it changes. */
const PLACING: Record<string, readonly string[]> = {
  answer: ["visit", "check", "place"], reading: ["visit", "check", "place", "reading", "at"], claim: ["piece", "visit", "check", "place"], photo: ["visit", "check", "place", "taken"],
  spot: ["photo", "at"], leak_reading: ["visit", "photo"], recording: ["visit", "made", "capture"], take: ["visit", "recording", "at"], mark: ["take"], visit: ["session", "piece", "tag", "began", "pass"], repair: ["piece"],
  film_test: ["piece"], deal: ["piece", "session"], inquiry: ["piece", "session"], dealing: ["seller", "session", "piece"], publication: ["session", "piece", "published", "version"], session: ["began", "remote"], remedy_cost: ["remedy"],
};

const spaced = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1).replaceAll("_", " ");

export function fieldTitle(kind: string, field: string): string {
  return FIELDS[kind]?.[field] ?? spaced(field);
}

/** Whether the field's first value only says where the record belongs. */
export function isPlacing(kind: string, field: string): boolean {
  return PLACING[kind]?.includes(field) ?? false;
}
