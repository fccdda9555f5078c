// Where each kind of request is answered from.
import { expect, test } from "vitest";
import { route } from "./routes.ts";

const stored = new Set(["/index.html", "/assets/index-abc12345.js"]);
const page = { method: "GET", navigation: true, sameOrigin: true, path: "/" };
const file = { ...page, navigation: false };

test.each(["/", "/anything", "/session/1"])("opening %s shows the stored app", (path) => {
  expect(route({ ...page, path }, stored)).toBe("shell");
});

test("a stored file comes from the phone, one of another version from where it is, an unknown one from the network", () => {
  expect(route({ ...file, path: "/assets/index-abc12345.js" }, stored)).toBe("cached");
  expect(route({ ...file, path: "/assets/index-zzz12345.js" }, stored)).toBe("earlier");
  expect(route({ ...file, path: "/unknown.txt" }, stored)).toBe("network");
});

test.each(["/api/changes", "/api", "/r/token/", "/r/token/report.pdf", "/evidence/", "/trust", "/healthz"])("%s is always the server's, opened or fetched", (path) => {
  expect(route({ ...page, path }, new Set([path]))).toBe("network");
  expect(route({ ...file, path }, new Set([path]))).toBe("network");
});

test("a path that only begins like the server's is the app's", () => {
  expect(route({ ...page, path: "/report" }, stored)).toBe("shell");
});

test("what writes or belongs to another origin is left alone", () => {
  expect(route({ ...file, method: "POST", path: "/index.html" }, stored)).toBe("network");
  expect(route({ ...file, sameOrigin: false, path: "/index.html" }, stored)).toBe("network");
});
