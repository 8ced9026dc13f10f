/**
 * Which budget is open, and where it is kept, in one of three ways: "example" (until it is changed), "own" (every
 * change is kept on this device) and "shared" (came by link; changes stay with the tab until a copy is kept). Until the
 * first document is shown it is "none": nothing can be typed, and nothing is kept.
 *
 * @typedef {"none" | "example" | "own" | "shared"} Mode
 * @typedef {{mode: Mode, id?: string, fragment?: string}} At the id of an own one, the fragment that a shared one came
 *   by
 */
export class Place {
  #mode;
  #id = "";
  #fragment = "";
  #page = Math.random();
  #visits = 0;
  /** @type {((from: string, to: string) => void)[]} */
  #followers = [];

  /** @param {Mode} mode */
  constructor(mode) {
    this.#mode = mode;
  }

  get mode() {
    return this.#mode;
  }

  get id() {
    return this.#id;
  }

  get fragment() {
    return this.#fragment;
  }

  /** @returns {boolean} whether a document is shown that can be worked on */
  get isOpen() {
    return this.#mode !== "none";
  }

  /** @returns {string} where the budget is kept: its id, or the fragment that it came by; "" for an example */
  get where() {
    return this.#id || this.#fragment;
  }

  /** @returns {string} the fragment that belongs into the address */
  get rightFragment() {
    return this.#mode === "shared" ? this.#fragment : "";
  }

  /** @returns {string} a name for the showing of one budget, until another one is entered */
  get visit() {
    return `${this.#page} ${this.#visits}`;
  }

  /** Another budget is open. @param {At} at */
  enter({ mode, id = "", fragment = "" }) {
    this.#visits += 1;
    this.#mode = mode;
    this.#id = id;
    this.#fragment = fragment;
  }

  /** The budget that is open is kept at another place from now on. @param {Partial<At>} at */
  move({ mode = this.#mode, id = this.#id, fragment = this.#fragment }) {
    const before = this.where;
    this.#mode = mode;
    this.#id = id;
    this.#fragment = fragment;
    for (const act of this.#followers) act(before, this.where);
  }

  /** Tell of such moves. @param {(from: string, to: string) => void} act */
  onMove(act) {
    this.#followers.push(act);
  }
}
