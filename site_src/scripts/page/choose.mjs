/** A choice among the visitor's budgets, what the budget page compares with, and the examples that the page holds. */
import { isBudget } from "./document.mjs";
import { line } from "./names.mjs";
import * as boxes from "./store/box.mjs";
import { budgets } from "./store/budgets.mjs";
import * as held from "./store/held.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */

const HELD = "held:";

/** @param {string} path below the site's folder @returns {Promise<Budget>} */
async function fetched(path) {
  const answer = await fetch(new URL(path, document.baseURI));
  const value = answer.ok ? await answer.json() : null;
  if (!isBudget(value)) throw new Error(`The example did not come (${answer.status}).`);
  return value;
}

/**
 * Put the visitor's budgets before the examples; what was chosen stays chosen while it is there.
 * @param {HTMLSelectElement} select @param {{withHeld?: boolean}} [and] whether what is held can be chosen, too
 */
export function fill(select, { withHeld = false } = {}) {
  const before = select.value;
  select.querySelector("[data-own]")?.remove();
  const group = document.createElement("optgroup");
  group.label = "My budgets";
  group.dataset.own = "";
  group.append(...budgets.list().map((listed) => new Option(line(listed), `own:${listed.id}`)));
  if (withHeld && held.load()) group.append(new Option("what the budget page compares with", HELD));
  if (group.children.length) select.prepend(group);
  pick(select, before);
}

/** Choose a value if it is there. @param {HTMLSelectElement} select @param {string} value */
export function pick(select, value) {
  if ([...select.options].some((option) => option.value === value)) select.value = value;
}

/** Choose the budget last worked on, if there is one. @param {HTMLSelectElement} select */
export function pickCurrent(select) {
  pick(select, `own:${budgets.current() ?? ""}`);
}

/** Choose what is held, if something is, else the newest other budget. @param {HTMLSelectElement} select */
export function pickOther(select) {
  const current = budgets.current();
  const other = budgets
    .list()
    .filter(({ id }) => id !== current)
    .at(-1)?.id;
  if (current) pick(select, held.load() ? HELD : `own:${other ?? ""}`);
}

/** @param {string} value of a choice @returns {Promise<Budget>} */
export async function load(value) {
  if (!value.startsWith("own:") && value !== HELD) return fetched(`demo/${value.replace(/^demo:/, "")}`);
  const budget = value === HELD ? held.load()?.budget : budgets.load(value.slice(4));
  if (!budget) throw new Error("That budget is no longer on this device.");
  return budget;
}

/** @returns {Promise<Budget>} a box of generic parts */
export const starterBox = () => fetched("demo/box.json");

/** @returns {Promise<Budget>} the visitor's box of parts; the starter box while there is none */
export async function box() {
  return boxes.load() ?? starterBox();
}
