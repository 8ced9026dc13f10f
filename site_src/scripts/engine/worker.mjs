/**
 * The worker: starts Python, then answers JSON text with JSON text.
 *
 * It starts from the memory snapshot that the build made, with as much of Pyodide's program as ever ran there. If
 * anything about that fails, or a request needs something that either leaves out, it starts the plain way, with the
 * whole program, and answers all the same.
 */
import { fetchChecked } from "./checked.mjs";
import { loadWith } from "./lent.mjs";
import { restore } from "./restore.mjs";
import { keep } from "./unpacked.mjs";

/** @typedef {(text: string, tell?: (text: string) => void) => string} Handle `tell` is given what goes ahead */

/** The program, compiled by the page (`begin.js`); a worker that is started again gets none. */
const lent = Promise.withResolvers();
if (self.name !== "begun") lent.resolve(null);

const LEFT_OUT = "left_out"; // as in site_src/app/bridge.py
const BEGINS = /^\{"v":1,"id":\d+,"method":"(finder_start|room_start|log_open)"/;
const PUTS_AWAY = /^\{"v":1,"id":\d+,"method":"log_close"/;
const here = new URL(".", import.meta.url);

/** @param {string} text */
const post = (text) => self.postMessage(text);

/** @param {"stage" | "ready" | "failed"} event @param {string} text */
function tell(event, text) {
  post(JSON.stringify({ v: 1, event, text }));
}

/** Return what went wrong in a line: of a Python traceback the last one. @param {unknown} error @returns {string} */
function reason(error) {
  const lines = String(error instanceof Error ? error.message : error)
    .trim()
    .split("\n");
  return (lines.at(-1) ?? "").slice(0, 200);
}

/** @param {string} answer @returns {boolean} whether it needed what the snapshot's Python does without */
const isLeftOut = (answer) => answer.includes(LEFT_OUT) && JSON.parse(answer).errors?.[0]?.code === LEFT_OUT;

/** @param {any} python @returns {Handle} */
function bridgeOf(python) {
  /** @type {any} */ (globalThis).pyodide = python; // for `build.py bench` and the tests
  return python.pyimport("site_src.app.bridge").handle;
}

/** @returns {Promise<Handle>} */
async function startPlain() {
  tell("stage", "fetching the sums");
  const [python, archive] = await Promise.all([
    loadWith(null, {}),
    fetchChecked(new URL("app.zip", here).href).then((answer) => answer.arrayBuffer()),
  ]);
  tell("stage", "setting up the sums");
  python.unpackArchive(archive, "zip", { extractDir: "/app" });
  python.runPython("import sys; sys.path.insert(0, '/app')");
  return bridgeOf(python);
}

/** @returns {Promise<Handle>} */
async function start() {
  try {
    tell("stage", "fetching the sums");
    return bridgeOf(await restore(lent.promise));
  } catch (error) {
    tell("stage", `starting the plain way (${reason(error)})`);
    return startPlain();
  }
}

/** Searches and logs that Python holds by a number: begun anew where Python is another one. */
class Begun {
  /** @type {Map<string, {text: string, number: number}>} the last request that began one, by its kind */
  #last = new Map();

  /** @param {string} text of a request @param {string} answer */
  note(text, answer) {
    if (PUTS_AWAY.test(text) && JSON.parse(answer).result?.closed) this.#last.delete("log_open");
    const [, kind] = BEGINS.exec(text) ?? [];
    if (!kind) return;
    const { result } = JSON.parse(answer);
    const number = result?.search ?? result?.log;
    if (number) this.#last.set(kind, { text, number });
  }

  /** @param {Handle} handle of a Python that knows none of them */
  again(handle) {
    for (const { text, number } of this.#last.values()) {
      const request = JSON.parse(text);
      handle(JSON.stringify({ ...request, params: { ...request.params, number } }));
    }
  }
}

/**
 * Answers requests, from the snapshot or, once one needs more than that holds, from sums that started the plain way.
 */
class Requests {
  #started = start();
  /** @type {Promise<Handle> | undefined} */
  #plainly;
  #begun = new Begun();
  #replied = Promise.resolve();

  constructor() {
    this.#started.then(
      () => tell("ready", EDITION),
      (error) => tell("failed", reason(error)),
    );
  }

  /** @param {string} text @returns {Promise<string>} */
  async #answer(text) {
    const handle = await this.#started;
    try {
      const given = handle(text, post);
      this.#begun.note(text, given);
      if (!isLeftOut(given)) return given;
    } catch (error) {
      if (handle === (await this.#plainly)) throw error; // else it was a function that the program does without
    }
    this.#plainly ??= startPlain().then((plain) => {
      this.#begun.again(plain);
      return plain;
    });
    this.#started = this.#plainly;
    return (await this.#plainly)(text, post);
  }

  /** @param {string} text of a request, answered after those before: else all would be, before one answer is sent */
  reply(text) {
    this.#replied = this.#replied.then(() => this.#send(text));
  }

  /** @param {string} text */
  async #send(text) {
    try {
      post(await this.#answer(text));
    } catch (error) {
      const { id } = JSON.parse(text);
      const trouble = { code: "stopped", field: "", message: `The sums stopped: ${reason(error)}`, facts: {} };
      post(JSON.stringify({ v: 1, id, ok: false, errors: [trouble] }));
      tell("failed", reason(error));
    }
  }
}

const requests = new Requests();

self.onmessage = ({ data }) => {
  if (typeof data !== "string") lent.resolve(data);
  else if (data === "keep")
    keep().catch(() => {}); // next time, then
  else requests.reply(data);
};
