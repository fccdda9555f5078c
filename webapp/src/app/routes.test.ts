// Which address leads where (routes: the project's own list in DEVELOPERS.md).
import { expect, it } from "vitest";
import { findRoute, ROUTES } from "./routes.ts";

const ID = "0123456789abcdef0123456789abcdef";

it.each([
  ["/", "/"],
  [`/session/${ID}`, "/session/:session"],
  [`/visit/${ID}/pass/short`, "/visit/:visit/pass/:pass"],
  [`/visit/${ID}/check/lens.glass.haze`, "/visit/:visit/check/:check"],
  ["/pair/ABCD-EFGH", "/pair/:code"],
])("%s opens %s", (path, pattern) => expect(findRoute(path)?.pattern).toBe(pattern));

it("knows no other address", () => {
  expect(findRoute("/nowhere")).toBeNull();
  expect(findRoute(`/visit/${ID}/`)).toBeNull();
});

it("has one screen for an address: no two patterns match the same path", () => {
  const paths = ROUTES.map((route) => route.pattern.replaceAll(/:\w+/g, "x"));
  for (const path of paths) expect(ROUTES.filter((route) => findRoute(path)?.pattern === route.pattern)).toHaveLength(1);
  expect(new Set(paths).size).toBe(paths.length);
});
