/** The budget that is open: shown, changed and kept. Which one it is changes only once its form is shown. */
import * as address from "../../page/address.mjs";
import { showDone, showKept, showSharedBanner } from "../../page/answer.mjs";
import { nameOf } from "../../page/document.mjs";
import { goTo } from "../../page/focus.mjs";
import { isLastShown } from "../../page/last.mjs";
import { copyName } from "../../page/names.mjs";
import { budgets } from "../../page/store/budgets.mjs";
import * as drafts from "../../page/store/shared.mjs";
import { showMine, showTools } from "../../page/toolbar.mjs";
import { fail } from "./answers.mjs";

/** @typedef {import("../../page/document.mjs").Budget} Budget */

/** @param {Budget} budget @returns {Budget} the same with a name that none of the visitor's budgets has */
export function withOwnName(budget) {
  const names = budgets.list().map(({ name }) => name);
  return names.includes(nameOf(budget)) ? withCopyName(budget) : budget;
}

/** @param {Budget} budget @returns {Budget} the same with the name of a copy */
export function withCopyName(budget) {
  const names = budgets.list().map(({ name }) => name);
  return { ...budget, name: copyName(nameOf(budget), names) };
}

/** @param {EventTarget | null} field @returns {HTMLInputElement | HTMLSelectElement | null} it, if it is an entry */
const entryOf = (field) => (field instanceof HTMLInputElement || field instanceof HTMLSelectElement ? field : null);

/** @param {HTMLInputElement | HTMLSelectElement} field @returns {string} what it is called, with the part it is of */
function told(field) {
  const label = field.labels?.[0]?.textContent?.trim() ?? "An entry";
  const line = field.closest(".line");
  const name = line?.querySelector(".name input");
  const part = name instanceof HTMLInputElement && name !== field ? name.value : "";
  return part ? `${label} of “${part}”` : `“${label}”`;
}

export class OpenBudget {
  /** @type {Budget | null} as it stood before what is typed next */
  #before = null;
  #form;
  #answers;
  #held;
  #sharedAddress;

  /**
   * @param {object} parts of the page
   * @param {import("./place.mjs").Place} parts.place
   * @param {import("../../page/form.mjs").BudgetForm} parts.form
   * @param {import("./answers.mjs").Answers} parts.answers
   * @param {import("../../page/held.mjs").Held} parts.held
   * @param {import("../../page/undo.mjs").Undo} parts.undo
   * @param {import("./sharedaddress.mjs").SharedAddress} parts.sharedAddress
   */
  constructor({ place, form, answers, held, undo, sharedAddress }) {
    this.place = place;
    this.undo = undo;
    this.#form = form;
    this.#answers = answers;
    this.#held = held;
    this.#sharedAddress = sharedAddress;
    this.#before = form.current();
    form.onInput(
      (field) => this.#typed(field),
      (before, back) => this.#changeUnits(before, back),
    );
  }

  /** @returns {Budget} as it stands in the form */
  current() {
    return this.#form.current();
  }

  /** Something was typed, or put into a field: keep it, and answer it. */
  #typed(/** @type {EventTarget | null} */ field = null) {
    const budget = this.current();
    this.#note(budget, entryOf(field));
    this.keep(budget);
    this.#answers.refresh();
  }

  /**
   * Note what stood there before, with a way back; what is typed into one field on end is one step.
   * @param {Budget} budget
   * @param {HTMLInputElement | HTMLSelectElement | null} field
   */
  #note(budget, field) {
    const before = this.#before;
    this.#before = budget;
    if (!before || (field && this.undo.goesOn(field.name))) return;
    this.undo.add(
      field ? `${told(field)} was changed.` : "The entries were changed.",
      async () => {
        if (await this.replace(before)) goTo(field?.id ?? "form");
      },
      field?.name,
    );
  }

  /** The fields were changed by the page. */
  changed() {
    this.#typed();
  }

  /** @param {string} before the system of units before @param {() => void} back what chooses it again */
  async #changeUnits(before, back) {
    try {
      const done = await this.#answers.show(this.current(), { fromUnits: before });
      if (!done) return;
      this.#before = this.current();
      this.keep(this.#form.shown);
    } catch (error) {
      back(); // the numbers in the form are still of the old one
      fail(error);
    }
  }

  /** Keep it where it belongs. @param {Budget} budget */
  keep(budget) {
    if (this.place.mode === "shared") {
      showKept(drafts.saveDraft(this.place.fragment, budget), "tab");
      this.#sharedAddress.follow();
    } else if (this.place.isOpen) this.#keepOwn(budget);
  }

  /** @param {Budget} budget */
  #keepOwn(budget) {
    const { place } = this;
    if (place.mode === "example") place.move({ mode: "own", id: budgets.newId() });
    // Never over what another tab wrote: this one goes on beside it.
    const beside = budgets.isChangedElsewhere(place.id) && budgets.load(place.id) !== null;
    if (beside) place.move({ id: budgets.newId() });
    showKept(budgets.save(place.id, budget), beside ? "beside" : "device");
    // Once the answer is asked for.
    queueMicrotask(() => showMine(budgets.list(), place.id));
  }

  /** Show another state of it, and keep that. @param {Budget} budget @returns {Promise<boolean>} whether it is shown */
  async replace(budget) {
    // Kept first: an example that was changed is the visitor's own when its answer is told of.
    if (!(await this.#answers.show(budget, { enter: () => this.keep(budget) }))) return false;
    this.#before = this.current();
    return true;
  }

  /**
   * Show another state of it and keep that, with a way back.
   * @param {Budget} budget
   * @param {string} told what was done
   * @param {() => Budget} back what it is to be without this
   * @param {string | (() => void)} after what is told, or done, once it is taken back
   * @returns {Promise<boolean>} whether it is shown
   */
  async change(budget, told, back, after) {
    if (!(await this.replace(budget))) return false;
    this.undo.add(told, async () => {
      if (!(await this.replace(back()))) return;
      if (typeof after === "string") showDone(after);
      else after();
    });
    return true;
  }

  /** Show a budget as the one worked on. @param {import("./place.mjs").At} at @param {Budget} budget */
  async enter(at, budget) {
    const held = this.#held;
    const like = at.mode === "shared" ? held.likeOf(budget) : null;
    const against = like?.budget ?? (held.wasAsked ? held.budget : null);
    const enter = () => {
      this.#sharedAddress.stop();
      this.place.enter(at);
    };
    const how = { against, example: at.mode === "example", stands: isLastShown(), enter };
    if (!(await this.#answers.show(budget, how))) return;
    this.#before = this.current();
    held.left();
    if (like) held.holdUnasked(like.budget, like.place);
    else if (!held.wasAsked) held.letGo();
    if (at.mode !== "shared" && address.linkIn(location.hash)) address.write("");
    if (at.mode === "own") budgets.choose(this.place.id);
    showSharedBanner(at.mode === "shared", nameOf(budget), like !== null);
    showMine(budgets.list(), this.place.id);
    showDone("");
    showTools("all");
    this.undo.moved("", "elsewhere"); // which example it was is not known any more
    this.undo.show();
  }

  /** Keep a new budget and go on with it. @param {Budget} budget @param {string} [from] "link" if it came by one */
  async begin(budget, from = "") {
    const id = budgets.newId();
    const done = budgets.save(id, budget, { from });
    await this.enter({ mode: "own", id }, budget);
    showKept(done, "device");
  }
}
