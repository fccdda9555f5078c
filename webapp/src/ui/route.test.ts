// Addresses behind the #: what is built can be read back, and strange ones lead to the first screen (rules: own).
import { describe, expect, it } from "vitest";
import { address, match, parseAddress } from "./route.ts";

describe("address", () => {
  it("survives the way out and back, signs included", () => {
    const built = address("/visit", "0a1b", "/check", "lens.shutter.speeds", { place: "speed=1/50", empty: "" });
    const { path, query } = parseAddress(built);
    expect(match("/visit/:visit/check/:check", path)).toEqual({ visit: "0a1b", check: "lens.shutter.speeds" });
    expect(query).toEqual({ place: "speed=1/50" });
  });
});

describe("parseAddress", () => {
  it.each(["", "#", "#top", "no hash"])("%j is the first screen", (hash) => {
    expect(parseAddress(hash)).toEqual({ path: "/", query: {} });
  });
});

describe("match", () => {
  it("refuses another length, an empty part and broken escapes", () => {
    expect(match("/visit/:visit", "/visit/1/more")).toBeNull();
    expect(match("/visit/:visit", "/visit/")).toBeNull();
    expect(match("/visit/:visit", "/visit/%E0%A4%A")).toBeNull();
  });
});
