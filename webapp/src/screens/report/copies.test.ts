// Copies for later: kept as the server gives them, three a subject, with the server's word where there is no PDF.
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { openStore, type Store } from "../../store/store.ts";
import { copiesOf, keepCopies } from "./copies.ts";
import { messageOf } from "./link_sheet.tsx";

let store: Store;
let turn = 0;
beforeEach(async () => { store = await openStore(`copies-${turn += 1}`); });
afterEach(() => { vi.unstubAllGlobals(); store.close(); });

const link = (version: number) => ({ publication: `p${version}`, link: "https://here.example/r/secret/", title: "Lens", version, expires_ms: Date.UTC(2027, 1, 3) });

function server(pdf: Response | null) {
  const asked: string[] = [];
  vi.stubGlobal("fetch", async (path: string) => {
    asked.push(path);
    return path.endsWith(".pdf") && pdf ? pdf.clone() : new Response(`bytes of ${path}`);
  });
  return asked;
}

it("keeps both files as the server gives them, from its own address", async () => {
  const asked = server(null);
  expect(await keepCopies(store, "about", link(2))).toEqual({ lacks: "" });
  expect(asked).toEqual(["/r/secret/report.html", "/r/secret/report.pdf"]);
  const [copy] = await copiesOf(store, "about");
  expect(copy!.files.map(({ name, bytes }) => [name, new TextDecoder().decode(bytes)])).toEqual([
    ["condition-report-version-2.html", "bytes of /r/secret/report.html"],
    ["condition-report-version-2.pdf", "bytes of /r/secret/report.pdf"],
  ]);
});

it("says what the server lacks for a PDF, and keeps the one file", async () => {
  server(Response.json({ error: { code: "no_pango", message: "No PDF here.", hint: "Install Pango." } }, { status: 503 }));
  expect(await keepCopies(store, "about", link(1))).toEqual({ lacks: "No PDF here. Install Pango." });
  expect((await copiesOf(store, "about"))[0]!.files).toHaveLength(1);
});

it("keeps the newest three of a subject and all of others", async () => {
  server(null);
  await keepCopies(store, "other", link(9));
  for (const version of [1, 2, 3, 4, 4]) await keepCopies(store, "about", link(version));
  expect((await copiesOf(store, "about")).map(({ version }) => version)).toEqual([4, 3, 2]);
  expect(await copiesOf(store, "other")).toHaveLength(1);
});

it("writes a message that says what the link is and how long it holds", () => {
  const said = messageOf(link(2));
  expect(said).toMatch(/^Condition report of Lens, version 2: .*not checked\. To be read until .*2027: /); // the day as the phone's language has it
  expect(said.endsWith("https://here.example/r/secret/")).toBe(true);
});
