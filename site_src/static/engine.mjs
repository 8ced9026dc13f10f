/**
 * The page's side of the worker border: requests with an id, one answer each, and the newest edit only.
 *
 * @typedef {{code: string, field: string, message: string}} Trouble
 * @typedef {{v: number, id: number, ok: true, result: any}} Done
 * @typedef {{v: number, id: number, ok: false, errors: Trouble[]}} Refused
 * @typedef {{v: number, event: "stage" | "ready" | "failed", text: string}} Notice
 */

export class EngineError extends Error {
  /** @param {Trouble[]} errors */
  constructor(errors) {
    super(errors[0]?.message ?? "No answer.");
    this.errors = errors;
  }
}

export class Engine {
  /** @type {Map<number, {resolve: (result: any) => void, reject: (error: Error) => void}>} */
  #waiting = new Map();
  /** @type {{method: string, params: object, resolve: (result: any) => void} | null} */
  #next = null;
  #busy = false;
  #last = 0;
  /** @type {Worker} */
  #worker;

  /** @param {(notice: Notice) => void} onNotice */
  constructor(onNotice) {
    this.#worker = new Worker(new URL("worker.mjs", import.meta.url), { type: "module" });
    this.#worker.onmessage = (event) => this.#receive(event.data, onNotice);
    this.#worker.onerror = (event) => {
      onNotice({ v: 1, event: "failed", text: event.message || "the worker did not start" });
    };
  }

  /** @param {string} text @param {(notice: Notice) => void} onNotice */
  #receive(text, onNotice) {
    /** @type {Done | Refused | Notice} */
    const message = JSON.parse(text);
    if ("event" in message) {
      onNotice(message);
      return;
    }
    const waiting = this.#waiting.get(message.id);
    this.#waiting.delete(message.id);
    if (message.ok) waiting?.resolve(message.result);
    else waiting?.reject(new EngineError(message.errors));
  }

  /**
   * Ask once. Rejects with EngineError.
   * @param {string} method @param {object} params @returns {Promise<any>}
   */
  ask(method, params) {
    const id = ++this.#last;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker.postMessage(JSON.stringify({ v: 1, id, method, params }));
    });
  }

  /**
   * Ask for the newest state of something: while an answer is under way, only the last request is kept. The promise of
   * a request that was overtaken resolves with null.
   * @param {string} method @param {object} params @returns {Promise<any>}
   */
  latest(method, params) {
    return new Promise((resolve, reject) => {
      if (this.#busy) {
        this.#next?.resolve(null);
        this.#next = { method, params, resolve };
        return;
      }
      this.#busy = true;
      this.ask(method, params)
        .then((result) => resolve(this.#next ? null : result), reject)
        .finally(() => {
          this.#busy = false;
          const next = this.#next;
          this.#next = null;
          if (next) this.latest(next.method, next.params).then(next.resolve, reject);
        });
    });
  }
}
