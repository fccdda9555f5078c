// Questions to a worker and their answers, told apart by number; a worker that breaks is made anew for the next question.

interface Waiting<Answer> { done: (answer: Answer) => void; fail: (error: unknown) => void; hear: (share: number) => void }

export class Asking<Question extends object, Reply extends { readonly id: number | string }, Answer> {
  #worker: Worker | null = null;
  #turn = 0;
  readonly #waiting = new Map<number | string, Waiting<Answer>>();

  /** `answerOf` reads a reply, and throws what the asker shall get instead; `broken` is said when the worker itself fails. */
  constructor(readonly make: () => Worker, readonly answerOf: (reply: Reply) => Answer, readonly broken: string) {}

  /** `hear` is told how far a long answer has come, 0..1, by replies that carry `progress`. */
  ask(question: Question, hear: (share: number) => void = () => undefined): Promise<Answer> {
    this.#turn += 1;
    const id = this.#turn;
    return new Promise((done, fail) => {
      this.#waiting.set(id, { done, fail, hear });
      this.#open().postMessage({ id, ...question });
    });
  }

  /** Gives up on every question; their askers get `error`. */
  stop(error: Error): void {
    this.#worker?.terminate();
    this.#worker = null;
    for (const one of this.#waiting.values()) one.fail(error);
    this.#waiting.clear();
  }

  #open(): Worker {
    if (this.#worker) return this.#worker;
    const worker = this.make();
    worker.addEventListener("message", ({ data }: MessageEvent<Reply>) => this.#settle(data));
    worker.addEventListener("error", () => this.stop(new Error(this.broken)));
    this.#worker = worker;
    return worker;
  }

  #settle(reply: Reply): void {
    const one = this.#waiting.get(reply.id);
    if ("progress" in reply && typeof reply.progress === "number") return one?.hear(reply.progress);
    this.#waiting.delete(reply.id);
    try {
      one?.done(this.answerOf(reply));
    } catch (error) {
      one?.fail(error);
    }
  }
}
