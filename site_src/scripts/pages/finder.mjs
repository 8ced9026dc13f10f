/** The finder's page: searches the box for the chosen budget, step by step. No sums here. */
import * as choose from "../page/choose.mjs";
import { nameOf } from "../page/document.mjs";
import { by } from "../page/dom.mjs";
import { askBeforeLeaving, onDo } from "../page/events.mjs";
import { morph } from "../page/morph.mjs";
import { answered, fail, offer, startEngine, tell } from "../page/pageengine.mjs";
import * as boxes from "../page/store/box.mjs";
import { budgets } from "../page/store/budgets.mjs";

/**
 * @typedef {import("../page/document.mjs").Budget} Budget
 * @typedef {object} Found
 * @property {string} which the budget that was searched for
 * @property {Budget} before it as it is
 * @property {Budget[]} documents it with each set
 * @property {boolean} copy whether a set becomes a budget of its own
 */

const OWN = "own:"; // what the visitor's budgets begin with in a choice

class FinderPage {
  #engine = startEngine();
  #which = by("which", HTMLSelectElement);
  #search = 0; // the search whose answer is waited for
  /** @type {Found} */
  #found = { which: "", before: {}, documents: [], copy: false };

  start() {
    const search = () => this.#begin().catch(fail);
    onDo({ use: ({ dataset }) => this.#use(Number(dataset.index)), stop: () => this.#stop() }, fail);
    for (const id of ["which", "charges", "actuator", "wishes"]) by(id).addEventListener("change", search);
    boxes.onChange(search);
    askBeforeLeaving();
    choose.fill(this.#which);
    choose.pickCurrent(this.#which);
    by("finder-tools").hidden = false;
    search();
  }

  /** Search anew. */
  async #begin() {
    const which = this.#which.value;
    const [before, box] = await Promise.all([choose.load(which), choose.box()]);
    by("starter-note").hidden = boxes.load() !== null;
    const started = await this.#engine.ask("finder_start", { document: before, box, ...wishes() });
    this.#search = started.search;
    tell(started.told);
    by("charges").setAttribute("aria-invalid", String(started.wrong));
    morph(by("wishes"), started.wishes);
    showBusy(true);
    const found = await this.#steps(started.search);
    if (!found) return;
    showBusy(false);
    by("result").innerHTML = found.html;
    this.#found = { which, before, documents: found.documents, copy: found.copy };
    answered();
  }

  /** Go through a search. @param {number} search @returns {Promise<any>} what it found, null if it was given up */
  async #steps(search) {
    const progress = by("progress", HTMLProgressElement);
    progress.value = 0;
    for (;;) {
      const step = await this.#engine.ask("finder_step", { search });
      if (this.#search !== search || "dropped" in step) return null;
      progress.value = step.done;
      if (step.done >= 1) return step;
    }
  }

  #stop() {
    this.#search = 0;
    showBusy(false);
    tell("The search was stopped.");
    return this.#engine.ask("finder_stop", {});
  }

  /**
   * Put a set into the budget it was searched for, with a way back; never over what was changed there since, and never
   * over masses from the scale: then it becomes a budget of its own.
   * @param {number} index
   */
  #use(index) {
    const found = this.#found;
    const budget = found.documents[index];
    if (!budget) return;
    const own = placeFor(found);
    const id = own ?? budgets.newId();
    const kept = budgets.save(id, budget);
    choose.fill(this.#which);
    choose.pick(this.#which, OWN + id);
    this.#found = { ...found, which: OWN + id, before: budget, copy: false };
    const where = own === null ? newPlace(found) : "";
    const lost = kept ? "" : " This browser does not keep it: it lasts only as long as this page.";
    const text = `Set ${index + 1} is in “${nameOf(budget).trim() || "the budget"}”${where}.${lost}`;
    offer(text, "Undo", () => this.#undo(found, id, own !== null));
    const link = Object.assign(document.createElement("a"), { href: "index.html", textContent: "Open the budget" });
    by("told").append(" ", link);
  }

  /**
   * @param {Found} found what a set was taken of
   * @param {string} id where it was put
   * @param {boolean} own whether that was the budget itself
   */
  #undo(found, id, own) {
    if (budgets.isChangedElsewhere(id)) return tell("The budget was changed since: undo it there.");
    if (own) budgets.save(id, found.before);
    else budgets.remove(id);
    this.#found = {
      ...this.#found,
      which: own || found.copy ? found.which : "",
      before: found.before,
      copy: found.copy,
    };
    choose.fill(this.#which);
    tell("Undone.");
  }
}

/** @returns {object} what the visitor wishes of a set */
function wishes() {
  const [charges, actuator] = [by("charges", HTMLInputElement).value, by("actuator", HTMLSelectElement).value];
  return { charges, keep: wished("keep"), bar: wished("bar"), actuator };
}

/** @param {string} word @returns {string[]} the names of the parts that are to be kept or barred */
function wished(word) {
  const selects = /** @type {NodeListOf<HTMLSelectElement>} */ (document.querySelectorAll("[data-wish]"));
  return [...selects].filter(({ value }) => value === word).map(({ dataset }) => dataset.wish ?? "");
}

/** @param {boolean} busy */
function showBusy(busy) {
  by("progress").hidden = !busy;
  by("stop").hidden = !busy;
}

/** @param {Found} found @returns {string | null} the id of the budget that takes a set, null where a new one must */
function placeFor({ which, copy }) {
  const id = which.startsWith(OWN) && !copy ? which.slice(OWN.length) : null;
  return id !== null && !budgets.isChangedElsewhere(id) ? id : null;
}

/** @param {Found} found @returns {string} where a set went that became a new budget */
function newPlace({ which, copy }) {
  if (!which.startsWith(OWN)) return ", now a budget of your own";
  if (copy) return ", a new budget: the first one holds what you weighed, and stays as it is";
  return ", as a second budget, since the first was changed meanwhile";
}

new FinderPage().start();
