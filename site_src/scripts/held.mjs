/** The budget that was held to compare with: it stays with the tab, and knows which budget it was taken from. */
import * as store from "./store.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */

const EXAMPLE = "example"; // its place, while nothing of it is kept

export class Held {
  /** @type {{place: string, budget: Budget} | null} */
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

  letGo() {
    this.#kept = null;
    store.letGo();
  }

  /** @param {string} place @returns {boolean} whether it was taken from there */
  isFrom(place) {
    return this.#kept?.place === (place || EXAMPLE);
  }

  /** The example that was shown is now kept as a budget. @param {string} place */
  keptAs(place) {
    if (this.#kept?.place === EXAMPLE) this.#put({ ...this.#kept, place });
  }

  /** Another budget is shown: what was held of an example is of none that is shown. */
  left() {
    this.keptAs("elsewhere");
  }

  /** @param {{place: string, budget: Budget}} kept */
  #put(kept) {
    this.#kept = kept;
    store.hold(kept);
  }
}
