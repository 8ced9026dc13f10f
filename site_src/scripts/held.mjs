/** The budget that was held to compare with: it stays with the tab, and knows which budget it was taken from. */
import * as store from "./store.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */

const EXAMPLE = "example"; // its place, while nothing of it is kept

export class Held {
  /** @type {import("./store.mjs").KeptHeld | null} */
  #kept = store.held();

  constructor() {
    this.left(); // which example was shown before the page was loaded anew is not known
  }

  /** @returns {Budget | undefined} */
  get budget() {
    return this.#kept?.budget;
  }

  /** @param {Budget} budget @param {string} place where it is kept, "" for an example */
  hold(budget, place) {
    this.#put({ place: place || EXAMPLE, budget });
  }

  /** @returns {boolean} whether the visitor asked for what is held */
  get wasAsked() {
    return this.#kept !== null && !this.#kept.unasked;
  }

  /** @returns {string} where what is held is kept */
  get place() {
    return this.#kept?.place ?? "";
  }

  /** Hold the visitor's own budget of the name of one that came by link, so that the answer tells what differs. @param {Budget} budget @param {string} place */
  holdUnasked(budget, place) {
    this.#put({ place, budget, unasked: true });
  }

  letGo() {
    this.#kept = null;
    store.letGo();
  }

  /** @param {string} place @returns {boolean} whether it was taken from there */
  isFrom(place) {
    return this.#kept?.place === (place || EXAMPLE);
  }

  /** What was at one place is at another now. @param {string} from "" for an example @param {string} place */
  moved(from, place) {
    if (this.#kept && this.isFrom(from)) this.#put({ ...this.#kept, place });
  }

  /** Another budget is shown: what was held of an example is of none that is shown. */
  left() {
    this.moved("", "elsewhere");
  }

  /** @param {import("./store.mjs").KeptHeld} kept */
  #put(kept) {
    this.#kept = kept;
    store.hold(kept);
  }
}
