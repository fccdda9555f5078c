// The list of files that the service worker stores, and when it counts as a new version.
import { expect, test } from "vitest";
import { precacheList } from "./service_worker_plugin.ts";

const files = new Map([
  ["index.html", "<p>"],
  ["assets/index-Ab3_d-9Z.js", "1"],
  ["assets/index-Ab3_d-9Z.js.map", "{}"],
  ["icon.svg", "<svg>"],
]);

test("every file is listed once, hashed ones apart, source maps left out", () => {
  const { hashed, named } = precacheList(files);
  expect(hashed).toEqual(["/assets/index-Ab3_d-9Z.js"]);
  expect(named).toEqual(["/icon.svg", "/index.html"]);
});

test("the version changes with any byte and with nothing else", () => {
  const { version } = precacheList(files);
  expect(precacheList(new Map([...files].reverse())).version).toBe(version);
  expect(precacheList(new Map(files).set("icon.svg", "<svg/>")).version).not.toBe(version);
  expect(precacheList(new Map(files).set("extra.txt", "")).version).not.toBe(version);
});
