// What is said when a report cannot be made (codes: the project's own error shape; the words: own).
import { describe, expect, it } from "vitest";
import { ServerError } from "../../sync/server.ts";
import { problemOf } from "./reports.ts";

describe("problemOf", () => {
  it("says that the server makes it when there is a signal", () => {
    const problem = problemOf(new ServerError(0, "unreachable", "no answer"));
    expect(problem.what).toMatch(/reached/);
    expect(problem.todo).toMatch(/signal/);
  });
  it("sends an unpaired phone to pairing", () => {
    expect(problemOf(new ServerError(401, "not_paired", "Not paired.")).todo).toMatch(/Pair this phone/);
  });
  it("counts what is still on a phone, so that the person may go without it", () => {
    const problem = problemOf(new ServerError(409, "media_missing", "Missing.", undefined, { missing: ["a", "b"] }));
    expect(problem).toMatchObject({ missing: 2 });
    expect(problem.what).toMatch(/^2 /);
  });
  it("passes on the server's own words and hint", () => {
    expect(problemOf(new ServerError(422, "days", "Days must be 1 to 365.", "Pick fewer days."))).toEqual({ what: "Days must be 1 to 365.", todo: "Pick fewer days." });
  });
  it("never shows nothing for an error of another kind", () => {
    expect(problemOf(new TypeError("odd")).todo).toMatch(/odd/);
  });
});
