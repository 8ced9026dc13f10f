/**
 * The visitor's budgets on this device: one entry of localStorage for each, so that one damaged entry costs no other.
 *
 * @typedef {import("../document.mjs").Budget} Budget
 * @typedef {{changed: number, from: string}} About when it was last changed, in ms since 1970, 0 if that is not known;
 *   and "link" if it came by one
 * @typedef {{id: string, name: string} & About} Listed
 */
import { nameOf } from "../document.mjs";
import { device, KEYS, onStored, parsed, texts } from "./texts.mjs";

const OURS = /^[0-9a-z]{8}[0-9a-z]{1,6}$/; // the time in 36 digits, then what makes it another one
const LONGEST = 80; // letters of a name in a list

/** @returns {string[]} the ids of all entries, oldest first */
function ids() {
  const ours = texts.keys().filter((key) => key.startsWith(KEYS.budget));
  return ours.map((key) => key.slice(KEYS.budget.length)).sort();
}

/** @param {string} id @returns {string | null} */
const textOf = (id) => texts.read(KEYS.budget + id, device);

class Budgets {
  /**
   * @type {Map<string, {text: string, budget: Budget | null}>} what texts were read as, by id: not each anew at each
   *   key
   */
  #readAs = new Map();
  /** @type {Map<string, string>} the text of each budget as this page last read or wrote it, by id */
  #known = new Map();

  /** @param {string} id @returns {Budget | null} a saved budget, to be read and not to be changed */
  #glance(id) {
    const text = textOf(id);
    const before = this.#readAs.get(id);
    if (text !== null && before?.text === text) return before.budget;
    const budget = parsed(text);
    if (text !== null) this.#readAs.set(id, { text, budget });
    return budget;
  }

  /** @returns {string} an id for a new budget, which sorts after all others even if the clock was set back */
  newId() {
    const times = ids()
      .filter((id) => OURS.test(id))
      .map((id) => Number.parseInt(id.slice(0, 8), 36));
    const newest = Math.max(0, ...times);
    const more = Math.random().toString(36).slice(2, 6).padEnd(4, "0");
    return `${Math.max(Date.now(), newest + 1).toString(36)}${more}`;
  }

  /** @returns {Listed[]} the visitor's budgets, oldest first */
  list() {
    return ids().flatMap((id) => {
      const budget = this.#glance(id);
      return budget ? [{ id, name: nameOf(budget).slice(0, LONGEST) || "without a name", ...this.about(id) }] : [];
    });
  }

  /** @param {string} id @returns {About} what is known of a budget beside itself */
  about(id) {
    const { changed, from } = parsed(texts.read(KEYS.info + id, device)) ?? {};
    return { changed: typeof changed === "number" && changed > 0 ? changed : 0, from: from === "link" ? from : "" };
  }

  /** @param {string} name @returns {string | null} the id of the newest of the visitor's budgets that has this name */
  named(name) {
    return (name && ids().findLast((id) => nameOf(this.#glance(id) ?? {}) === name)) || null;
  }

  /** @returns {{id: string, text: string}[]} entries that hold no budget: damaged, or not ours */
  damaged() {
    return ids().flatMap((id) => (this.#glance(id) ? [] : [{ id, text: textOf(id) ?? "" }]));
  }

  /** @param {string} id @returns {Budget | null} */
  load(id) {
    const text = textOf(id);
    if (text !== null) this.#known.set(id, text);
    return parsed(text);
  }

  /**
   * @param {string} id
   * @returns {boolean} whether another tab changed or removed a budget since this page read or wrote it
   */
  isChangedElsewhere(id) {
    return this.#known.has(id) && this.#known.get(id) !== (textOf(id) ?? "");
  }

  /**
   * @param {string} id
   * @param {Budget} budget
   * @param {Partial<About>} [about] when it was changed, if not now; where it came from, if that is new
   * @returns {boolean} whether it outlasts this page
   */
  save(id, budget, { changed = Date.now(), from = this.about(id).from } = {}) {
    const text = JSON.stringify(budget);
    this.#known.set(id, text);
    const done = texts.write(KEYS.budget + id, text, device);
    texts.write(KEYS.info + id, JSON.stringify({ changed, from }), device);
    this.choose(id);
    return done;
  }

  /** @param {string} id of the one that is worked on */
  choose(id) {
    texts.write(KEYS.current, JSON.stringify(id), device);
  }

  /** @param {string} id */
  remove(id) {
    this.#known.delete(id);
    this.#readAs.delete(id);
    for (const key of [KEYS.budget + id, KEYS.info + id]) texts.drop(key, device);
    texts.writeWaiting();
  }

  /** @returns {string | null} the id of the budget last worked on, if it is still there, or of the newest one */
  current() {
    try {
      const id = JSON.parse(texts.read(KEYS.current, device) ?? "null");
      if (typeof id === "string" && this.#glance(id)) return id;
    } catch {
      // Damaged: the newest one, then.
    }
    return ids().findLast((id) => this.#glance(id)) ?? null;
  }

  /** Tell of changes that another tab makes. @param {(id: string) => void} act */
  onChange(act) {
    onStored(KEYS.budget, act);
  }
}

export const budgets = new Budgets();
