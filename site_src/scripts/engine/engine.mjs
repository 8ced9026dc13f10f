/**
 * The page's side of the worker border: requests with an id, one answer each, of which a part may go ahead, and the
 * newest edit only.
 *
 * @typedef {{code: string, field: string, message: string}} Trouble
 * @typedef {{v: number, id: number, ok: true, result: any}} Done
 * @typedef {{v: number, id: number, ok: false, errors: Trouble[]}} Refused
 * @typedef {{v: number, id: number, first: {places: Record<string, string>}}} Ahead
 * @typedef {{v: number, event: "stage" | "ready" | "failed" | "late", text: string}} Notice
 */
import { keeping } from "./offline.mjs";

const STALLED = 120_000; // ms without being started; a line of 1 Mbit/s takes some 83 s
const LATE = 30_000; // ms without an answer, once started; an answer takes some hundredths of a second

const OTHER = "this page and its sums are of different editions of this site: load the page anew";

export class EngineError extends Error {
  /** @param {Trouble[]} errors */
  constructor(errors) {
    super(errors[0]?.message ?? "No answer.");
    this.code = errors[0]?.code ?? "";
  }
}

/**
 * @typedef {(first: {places: Record<string, string>}) => void} First is given what goes ahead of the answer, which
 *   holds it, too
 * @typedef {{resolve: (result: any) => void, reject: (error: Error) => void, first?: First}} Asker
 * @typedef {Asker & {params: object}} Asked
 */

/** @param {string} code @param {string} message */
const trouble = (code, message) => new EngineError([{ code, field: "", message }]);

/** @param {string} edition of the worker @returns {boolean} whether page, script and worker go together */
const ofThisEdition = (edition) => edition === EDITION && document.documentElement.dataset.edition === EDITION;

/** @param {any} result @param {{places: object}} [ahead] what went ahead of it @returns {any} both */
const whole = (result, ahead) => (ahead ? { ...result, places: { ...ahead.places, ...result.places } } : result);

export class Engine {
  /** @type {Map<number, Asker & {timer: number, ahead?: {places: object}}>} `ahead`: what went ahead of the answer */
  #waiting = new Map();
  /** @type {Map<string, Asked | null>} by method, while one is under way: the newest of those that wait */
  #newest = new Map();
  #started = false;
  #stopped = "";
  #last = 0;
  #starting = 0; // the timer of a start
  #onNotice;
  /** @type {Worker} */
  #worker;

  /** @param {(notice: Notice) => void} onNotice */
  constructor(onNotice) {
    this.#onNotice = onNotice;
    this.#worker = this.#begin();
  }

  /** @returns {Worker} */
  #begin() {
    const early = /** @type {any} */ (globalThis);
    /** @type {{worker: Worker, said: (MessageEvent | ErrorEvent)[]} | undefined} of `begin.js` */
    const begun = early.begun;
    delete early.begun;
    const worker = begun?.worker ?? new Worker(new URL("worker.mjs", import.meta.url), { type: "module" });
    const hear = (/** @type {MessageEvent} */ event) => this.#receive(event.data);
    const fail = (/** @type {ErrorEvent} */ event) => this.#fail(event.message || "the worker did not start");
    worker.onmessage = hear;
    clearTimeout(this.#starting);
    this.#starting = window.setTimeout(() => this.#onNotice({ v: 1, event: "late", text: "" }), STALLED);
    worker.onerror = fail;
    keeping.of(worker);
    queueMicrotask(() => {
      for (const event of begun?.said ?? []) {
        if (event instanceof MessageEvent) hear(event);
        else fail(event);
      }
    });
    return worker;
  }

  /** Start anew: what was asked is refused, so that nobody waits for it. */
  restart() {
    this.#worker.terminate();
    this.#started = false;
    this.#stopped = "";
    this.#refuseAll(trouble("stopped", "The sums were started again."));
    this.#worker = this.#begin();
  }

  /** @param {string} text */
  #fail(text) {
    this.#worker.terminate();
    clearTimeout(this.#starting);
    this.#stopped = text;
    this.#onNotice({ v: 1, event: "failed", text });
    this.#refuseAll(trouble("stopped", `The sums stopped (${text}).`));
    if (!this.#started) keeping.renew();
  }

  /** @param {Error} error */
  #refuseAll(error) {
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { reject, timer } of waiting) {
      clearTimeout(timer);
      reject(error);
    }
  }

  /** @param {string} text */
  #receive(text) {
    /** @type {Done | Refused | Ahead | Notice} */
    const message = JSON.parse(text);
    if ("event" in message) {
      this.#started ||= message.event === "ready" && ofThisEdition(message.text);
      if (message.event !== "stage") clearTimeout(this.#starting);
      if (message.event === "failed") this.#fail(message.text);
      else if (message.event === "ready" && !this.#started) this.#fail(OTHER);
      else this.#onNotice(message);
      return;
    }
    const waiting = this.#waiting.get(message.id);
    if ("first" in message) {
      if (waiting) waiting.ahead = message.first;
      waiting?.first?.(message.first);
      return;
    }
    this.#waiting.delete(message.id);
    clearTimeout(waiting?.timer);
    if (message.ok) waiting?.resolve(whole(message.result, waiting.ahead));
    else waiting?.reject(new EngineError(message.errors));
  }

  /**
   * Ask once. Rejects with EngineError, at once where the sums have stopped.
   * @param {string} method @param {object} params @param {First} [first] @returns {Promise<any>}
   */
  ask(method, params, first) {
    if (this.#stopped) return Promise.reject(trouble("stopped", `The sums stopped (${this.#stopped}).`));
    const id = ++this.#last;
    return new Promise((resolve, reject) => {
      const late = () => this.#started && this.#onNotice({ v: 1, event: "late", text: "" });
      this.#waiting.set(id, { resolve, reject, first, timer: window.setTimeout(late, LATE) });
      this.#worker.postMessage(JSON.stringify({ v: 1, id, method, params }));
    });
  }

  /**
   * Ask for the newest state of something: while an answer of this method is under way, only the last request is kept.
   * The promise of a request that was overtaken resolves with null, and nothing of it goes ahead.
   * @param {string} method @param {object} params @param {First} [first] @returns {Promise<any>}
   */
  latest(method, params, first) {
    return new Promise((resolve, reject) => {
      if (this.#newest.has(method)) {
        this.#newest.get(method)?.resolve(null);
        this.#newest.set(method, { params, resolve, reject, first });
        return;
      }
      this.#newest.set(method, null);
      this.ask(method, params, (ahead) => this.#newest.get(method) || first?.(ahead))
        .then((result) => resolve(this.#newest.get(method) ? null : result), reject)
        .finally(() => {
          const next = this.#newest.get(method);
          this.#newest.delete(method);
          if (next) this.latest(method, next.params, next.first).then(next.resolve, next.reject);
        });
    });
  }
}
