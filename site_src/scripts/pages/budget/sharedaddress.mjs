/**
 * The address of a budget that came by link and was changed: it becomes that of what stands in the form, so that
 * whoever sends it on sends that. Where that fits into no link, the address tells of none, and the changes stay with
 * the tab all the same.
 */
import * as address from "../../page/address.mjs";
import * as drafts from "../../page/store/shared.mjs";

const FOLLOWS = 400; // ms after an answer until the address has its link: browsers allow some three changes a second

export class SharedAddress {
  #place;
  #form;
  #answers;
  #timer = 0;

  /**
   * @param {import("./place.mjs").Place} place
   * @param {import("../../page/form.mjs").BudgetForm} form
   * @param {import("./answers.mjs").Answers} answers
   */
  constructor(place, form, answers) {
    this.#place = place;
    this.#form = form;
    this.#answers = answers;
    answers.onAnswer(() => this.follow());
  }

  /** Let the address follow in a moment, if the budget that is open came by link and was changed. */
  follow() {
    this.stop();
    if (this.#place.mode !== "shared" || !drafts.draft(this.#place.fragment)) return;
    this.#timer = window.setTimeout(() => this.#write(), FOLLOWS);
  }

  stop() {
    clearTimeout(this.#timer);
  }

  #write() {
    const fragment = this.#answers.link || address.LINK;
    const before = this.#place.fragment;
    if (fragment === before) return;
    this.#place.move({ fragment });
    drafts.saveDraft(fragment, this.#form.current());
    drafts.moveDraft(before, fragment);
    address.write(fragment);
  }
}
