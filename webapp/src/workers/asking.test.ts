// Answers find their question, a refusal and a broken worker reach the asker, and the next question gets a new worker.
import { expect, it } from "vitest";
import { Asking } from "./asking.ts";

interface Reply { id: number; twice?: number; progress?: number }

class FakeWorker extends EventTarget {
  readonly asked: { id: number; n: number }[] = [];
  ended = false;
  postMessage(question: { id: number; n: number }): void { this.asked.push(question); }
  terminate(): void { this.ended = true; }
  reply(data: Reply): void { this.dispatchEvent(new MessageEvent("message", { data })); }
}

function bench() {
  const made: FakeWorker[] = [];
  const asking = new Asking<{ n: number }, Reply, number>(
    () => { made.push(new FakeWorker()); return made.at(-1) as unknown as Worker; },
    ({ twice }) => { if (twice === undefined) throw new RangeError("no number"); return twice; },
    "broken",
  );
  return { made, asking };
}

it("gives each asker its own answer, in whatever order they come", async () => {
  const { made, asking } = bench();
  const answers = [asking.ask({ n: 1 }), asking.ask({ n: 2 })];
  const [first, second] = made[0]!.asked;
  made[0]!.reply({ id: second!.id, twice: 4 });
  made[0]!.reply({ id: first!.id, twice: 2 });
  expect(await Promise.all(answers)).toEqual([2, 4]);
  expect(made.length).toBe(1);
});

it("passes a refusal on, and makes a new worker after one broke or was stopped", async () => {
  const { made, asking } = bench();
  const refused = asking.ask({ n: 1 });
  made[0]!.reply({ id: made[0]!.asked[0]!.id });
  await expect(refused).rejects.toBeInstanceOf(RangeError);

  const lost = asking.ask({ n: 2 });
  made[0]!.dispatchEvent(new Event("error"));
  await expect(lost).rejects.toThrow("broken");

  const stopped = asking.ask({ n: 3 });
  asking.stop(new Error("no longer wanted"));
  await expect(stopped).rejects.toThrow("no longer wanted");
  expect([made.length, made[1]!.ended]).toEqual([2, true]);
});

it("tells how far a long answer has come, and still gives it", async () => {
  const { made, asking } = bench();
  const heard: number[] = [];
  const answer = asking.ask({ n: 1 }, (share) => heard.push(share));
  const { id } = made[0]!.asked[0]!;
  made[0]!.reply({ id, progress: 0.25 });
  made[0]!.reply({ id, progress: 1 });
  made[0]!.reply({ id, twice: 2 });
  expect([await answer, heard]).toEqual([2, [0.25, 1]]);
});
