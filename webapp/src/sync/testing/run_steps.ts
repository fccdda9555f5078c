// What can happen to two phones, a server and the line between them, as steps that a run goes through and a search can shorten.
import fc from "fast-check";
import { expect, vi } from "vitest";
import { wins } from "../../domain/merge.ts";
import { failAt, FAILURES, isDead, type Failure } from "./failing_database.ts";
import { FakeServer } from "./fake_server.ts";
import { FIELDS, ModelPhone, RECORDS, type Plant } from "./model_phone.ts";

const [HOUR_MS, DAY_MS] = [3_600_000, 86_400_000];
const START_MS = 1_780_000_000_000;

export interface Fail { nth: number; how: Failure }
/** What the line does to the `nth` request of a round. `late`: it arrives once more, later. */
export interface Line { nth: number; what: "down" | "answer lost" | "twice" | "late" | "edit meanwhile" }

export type Step = { who: 0 | 1; fail?: Fail | undefined } & (
  | { does: "edit"; record: string; field: string; refused: boolean }
  | { does: "photo" } | { does: "let go" } | { does: "restart" }
  | { does: "round"; line?: Line | undefined }
  | { does: "clock"; offsetMs: number }
  | { does: "server restored" });

const fail = fc.option(fc.record({ nth: fc.integer({ min: 1, max: 60 }), how: fc.constantFrom(...FAILURES) }), { nil: undefined, freq: 2 });
const line = fc.option(fc.record({ nth: fc.integer({ min: 1, max: 4 }), what: fc.constantFrom<Line["what"]>("down", "answer lost", "twice", "late", "edit meanwhile") }), { nil: undefined });
const who = fc.constantFrom<0 | 1>(0, 1);
const edit = fc.record({
  does: fc.constant("edit" as const), who, fail, record: fc.constantFrom(...RECORDS), field: fc.constantFrom(...FIELDS), refused: fc.nat(9).map((n) => n === 0),
});

const anyStep: fc.Arbitrary<Step> = fc.oneof(
  { weight: 6, arbitrary: edit },
  { weight: 6, arbitrary: fc.record({ does: fc.constant("round" as const), who, fail, line }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant("photo" as const), who, fail }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constantFrom("let go" as const, "restart" as const), who, fail }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant("clock" as const), who, offsetMs: fc.constantFrom(-HOUR_MS, 0, 4 * 60_000, HOUR_MS, 400 * DAY_MS) }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("server restored" as const), who }) },
);

/** A run, which a search can shorten. */
export const someSteps = fc.array(anyStep, { minLength: 5, maxLength: 30, size: "max" });

let runs = 0;

/** One world from its beginning to its quiet end. */
export class World {
  readonly server = new FakeServer();
  readonly phones: readonly [ModelPhone, ModelPhone];
  #nowMs = START_MS;
  #made = 0;
  #late: (() => Promise<unknown>)[] = [];

  constructor(plant: Plant = () => undefined) {
    runs += 1;
    const now = () => this.#nowMs;
    this.server.nowMs = now;
    this.server.refuses = (change) => (String(change.value).startsWith("bad") ? "Not this one." : null);
    const make = (which: number) => new ModelPhone(`machine-${runs}-${which}`, this.server, now, plant);
    this.phones = [make(0), make(1)];
  }

  async begin(): Promise<void> {
    for (const phone of this.phones) {
      await phone.open();
      await phone.pair();
    }
  }

  /** One step, then what must hold on its phone after every step. A step's own failure is disarmed at its end. */
  async step(step: Step): Promise<void> {
    const phone = this.phones[step.who];
    this.#nowMs += 1000;
    if (step.fail) failAt(step.fail.nth, step.fail.how);
    await this.#act(step, phone);
    if (step.fail) failAt(0);
    if (isDead()) await phone.open();
    await phone.check();
  }

  async #act(step: Step, phone: ModelPhone): Promise<void> {
    switch (step.does) {
      case "edit": return phone.edit(step.record, step.field, `${step.refused ? "bad" : "good"} ${this.#made += 1}`);
      case "photo": return phone.photo(`photo ${this.#made += 1}`);
      case "let go": return phone.letGo();
      case "restart": return phone.open();
      case "clock": phone.offsetMs = step.offsetMs; return;
      case "round": return this.#round(phone, step.line);
      case "server restored":
        this.server.changes = this.server.changes.slice(0, Math.ceil(this.server.changes.length / 2));
        this.server.epoch = `epoch ${this.#made += 1}`;
    }
  }

  async #round(phone: ModelPhone, line?: Line): Promise<void> {
    const late = this.#late.splice(0);
    for (const arrive of late) await arrive();
    let nth = 0;
    vi.stubGlobal("fetch", async (path: string, init?: RequestInit) => {
      nth += 1;
      if (nth !== line?.nth) return this.server.fetch(path, init);
      if (line.what === "down") throw new TypeError("no line");
      if (line.what === "twice") await this.server.fetch(path, init);
      if (line.what === "late") this.#late.push(() => this.server.fetch(path, init));
      const answer = await this.server.fetch(path, init);
      if (line.what === "answer lost") throw new TypeError("the line broke");
      if (line.what === "edit meanwhile") await phone.edit(RECORDS[0], FIELDS[0], `good ${this.#made += 1}`);
      return answer;
    });
    await phone.round();
  }

  /** Quiet: both ask until nothing waits; then all hold the same, and nothing that was promised is gone. */
  async end(): Promise<void> {
    failAt(0);
    for (const phone of this.phones) phone.offsetMs = 0;
    for (let turn = 0; turn < 3; turn += 1) for (const phone of this.phones) await this.#round(phone);
    const kept = new Map(this.server.changes.map((change) => [change.id, change]));
    expect(kept.size, "each change once").toBe(this.server.changes.length);
    for (const change of kept.values()) {
      const base = change.base === null ? undefined : kept.get(change.base);
      expect(!base || wins(change, base), "cause stays before effect").toBe(true);
    }
    for (const phone of this.phones) {
      await phone.check();
      const held = await phone.held();
      expect([held.outbox.size, held.uploads.size], "nothing waits").toEqual([0, 0]);
      const same = [...held.changes.values()].filter((change) => !held.refused.has(change.id)).map(({ id, stamp, value }) => [id, stamp, value]).sort();
      expect(same, "phone and server hold the same history").toEqual([...kept.values()].map(({ id, stamp, value }) => [id, stamp, value]).sort());
      for (const hash of phone.photos) expect(this.server.media.has(hash), "every photo reached the server").toBe(true);
      for (const [hash, bytes] of this.server.media) expect(await digest(bytes)).toBe(hash);
    }
  }

  close(): void {
    for (const phone of this.phones) phone.store.close();
  }
}

async function digest(bytes: ArrayBuffer): Promise<string> {
  return Buffer.from(await crypto.subtle.digest("SHA-256", bytes)).toString("hex");
}

/** A whole run of these steps. */
export async function run(steps: readonly Step[], plant?: Plant): Promise<void> {
  const world = new World(plant);
  try {
    await world.begin();
    for (const step of steps) await world.step(step);
    await world.end();
  } finally {
    failAt(0);
    world.close();
  }
}
