/** A choice among the visitor's budgets and the examples that stand in the page. */
import { isBudget } from "./document.mjs";
import * as store from "./store.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */

/** Put the visitor's budgets before the examples, and choose the one last worked on. @param {HTMLSelectElement} select */
export function fill(select) {
  const before = select.value;
  select.querySelector("#own-budgets")?.remove();
  const group = document.createElement("optgroup");
  group.id = "own-budgets";
  group.label = "My budgets";
  group.append(...store.list().map(({ id, name }) => new Option(name, `own:${id}`)));
  if (group.children.length) select.prepend(group);
  const wanted = before.startsWith("own:") || !group.children.length ? before : `own:${store.current() ?? ""}`;
  if ([...select.options].some(({ value }) => value === wanted)) select.value = wanted;
}

/** @param {string} value of the select @returns {Promise<Budget>} */
export async function load(value) {
  if (value.startsWith("own:")) {
    const budget = store.load(value.slice(4));
    if (budget) return budget;
    throw new Error("That budget is no longer on this device.");
  }
  const answer = await fetch(new URL(`demo/${value.replace(/^demo:/, "")}`, document.baseURI));
  const budget = await answer.json();
  if (!isBudget(budget)) throw new Error("The example did not come.");
  return budget;
}

/** Keep a budget where it came from; an example becomes a budget of the visitor's own. @param {string} value @param {Budget} budget @returns {{id: string, kept: boolean}} */
export function keep(value, budget) {
  const id = value.startsWith("own:") ? value.slice(4) : store.newId();
  return { id, kept: store.save(id, budget) };
}
