/**
 * Texts that the browser keeps, on the device or with the tab. What it does not keep (full, forbidden) lives in this
 * page's memory, so that nothing is dropped unasked.
 *
 * @typedef {import("../document.mjs").Budget} Budget
 * @typedef {() => Storage} Where
 * @typedef {{text: string, where: Where, before: string | null}} Waiting a text that found no room, and what stood
 *   there
 */
import { isBudget } from "../document.mjs";

export const KEYS = {
  budget: "thistledown.budget.", // with an id
  info: "thistledown.info.", // with an id: what is known of a budget beside itself
  current: "thistledown.current",
  shared: "thistledown.shared.", // with a fragment
  moved: "thistledown.moved", // which link's budget now stands under which, since it was changed
  held: "thistledown.held",
  box: "thistledown.box",
};
const TYPED = [KEYS.budget, KEYS.shared, KEYS.box]; // what the visitor typed
const DEEPEST = 100; // lists and groups within each other; a budget has four

/** @type {Where} */
export const device = () => localStorage;
/** @type {Where} */
export const tab = () => sessionStorage;

/** @param {string} key @param {Where} where @returns {string | null} */
function stored(key, where) {
  try {
    return where().getItem(key);
  } catch {
    return null;
  }
}

class Texts {
  /** @type {Map<string, Waiting>} what is kept in this page alone, by key */
  #waiting = new Map();

  /** @param {string} key @param {Where} where @returns {string | null} */
  read(key, where) {
    return this.#waiting.get(key)?.text ?? stored(key, where);
  }

  /** @param {string} key @param {string} text @param {Where} where @returns {boolean} whether it outlasts this page */
  write(key, text, where) {
    try {
      where().setItem(key, text);
      this.#waiting.delete(key);
      this.writeWaiting();
      return true;
    } catch {
      this.#waiting.set(key, { text, where, before: this.#waiting.get(key)?.before ?? stored(key, where) });
      return false;
    }
  }

  /** Keep what found no room before, if there is room by now; never over what another tab wrote meanwhile. */
  writeWaiting() {
    for (const [key, { text, where, before }] of this.#waiting) {
      if (stored(key, where) !== before) continue;
      try {
        where().setItem(key, text);
        this.#waiting.delete(key);
      } catch {
        return;
      }
    }
  }

  /** @param {string} key @param {Where} where */
  drop(key, where) {
    this.#waiting.delete(key);
    try {
      where().removeItem(key);
    } catch {
      // A browser that stores nothing has nothing to remove.
    }
  }

  /** @returns {string[]} the keys of all that is kept on the device, or in this page alone */
  keys() {
    const keys = [...this.#waiting.keys()];
    try {
      return [...new Set([...keys, ...Object.keys(localStorage)])];
    } catch {
      return keys; // a browser that stores nothing lists nothing
    }
  }

  /** @returns {boolean} whether something typed would be lost with this page */
  isOnlyHere() {
    return [...this.#waiting.keys()].some((key) => TYPED.some((prefix) => key.startsWith(prefix)));
  }
}

export const texts = new Texts();

/**
 * Tell of what another tab changes on the device.
 * @param {string} prefix of its keys
 * @param {(rest: string) => void} act
 */
export function onStored(prefix, act) {
  addEventListener("storage", ({ key, storageArea }) => {
    if (storageArea !== localStorage || !key?.startsWith(prefix)) return;
    texts.writeWaiting();
    act(key.slice(prefix.length));
  });
}

/** @param {string | null} text @returns {Budget | null} */
export function parsed(text) {
  try {
    const value = tooDeep(text ?? "") ? null : JSON.parse(text ?? "null");
    return isBudget(value) ? value : null;
  } catch {
    return null;
  }
}

/**
 * @param {string} text of JSON
 * @returns {boolean} whether it is nested so deep that copying it, or the sums, would break off
 */
function tooDeep(text) {
  let depth = 0;
  for (const [sign] of text.matchAll(/"(?:[^"\\]|\\.)*"|[[{]|[\]}]/g)) {
    if (sign === "{" || sign === "[") depth += 1;
    else if (sign === "}" || sign === "]") depth -= 1;
    if (depth > DEEPEST) return true;
  }
  return false;
}
