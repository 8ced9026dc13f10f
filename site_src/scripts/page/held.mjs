/** The budget that was held to compare with: it stays with the tab, and knows which budget it was taken from. */
import { nameOf } from "./document.mjs";
import { budgets } from "./store/budgets.mjs";
import * as store from "./store/held.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */

const EXAMPLE = "example"; // its place, while nothing of it is kept

export class Held {
  /** @type {import("./store/held.mjs").Kept | null} */
  #kept = store.load();

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

  /**
   * Hold the visitor's own budget of the name of one that came by link, so that the answer tells what differs.
   * @param {Budget} budget
   * @param {string} place
   */
  holdUnasked(budget, place) {
    this.#put({ place, budget, unasked: true });
  }

  /**
   * What a budget that came by link is compared with once it is shown: the visitor may have one of the same name, sent
   * out and now come back. That is then held by itself, and let go when the other one is left.
   * @param {Budget} shared
   * @returns {{budget: Budget, place: string} | null} null: what the visitor holds, if anything
   */
  likeOf(shared) {
    const place = this.wasAsked ? null : budgets.named(nameOf(shared));
    const budget = place ? budgets.load(place) : null;
    return place && budget ? { budget, place } : null;
  }

  letGo() {
    this.#kept = null;
    store.drop();
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

  /** @param {import("./store/held.mjs").Kept} kept */
  #put(kept) {
    this.#kept = kept;
    store.save(kept);
  }
}
