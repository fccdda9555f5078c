// The page of every golden view is, letter by letter, the one the server makes (tests/files/report_pages, written by it), but for
// empty lines: the two template libraries treat tags that stand alone differently.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { oneFile } from "./one_file.ts";
import { page } from "./page.ts";

const CSS = "p { margin: 0; }\n"; // as in make.py

interface Case { readonly id: string; readonly out?: object }
const tests = new URL("../../../tests/", import.meta.url);
const sets = JSON.parse(readFileSync(new URL("vectors/report_view.json", tests), "utf8")) as { function: string; cases: Case[] }[];
const views = sets.find((one) => one.function === "report_view.report_view")!.cases.filter(({ out }) => out !== undefined);
const packed = (html: string) => html.replace(/\n+/g, "\n");
const golden = (name: string) => packed(readFileSync(new URL(`files/report_pages/${name}`, tests), "utf8"));

describe("page", () => {
  it("has views to be held against", () => expect(views.length).toBeGreaterThan(3));
  it.each(views.map((one) => [one.id, one] as const))("%s is as the server makes it", (id, { out }) => {
    expect(packed(page(out!))).toBe(golden(`${id}.html`));
  });
});

describe("oneFile", () => {
  it("is as the server makes it", () => {
    const html = page(views[0]!.out!);
    const photos = new Map([...html.matchAll(/src="(photo\/[0-9a-f]{64}\.jpg)"/g)].map(([, address]) => [address!, btoa(address!)]));
    expect(photos.size).toBeGreaterThan(0);
    expect(packed(oneFile(html, CSS, photos))).toBe(golden("one_file.html"));
  });
  it("leaves what a person wrote alone", () => {
    expect(oneFile('<p>$& src=</p><img src="photo/a.jpg">', "", new Map([["photo/a.jpg", "$$"]]))).toContain("base64,$$");
  });
});
