/** The dialogs of the budget page. */
import { by } from "./dom.mjs";

/**
 * The newcomer's start, what weighs stock, the parts in the box, a list out of a spreadsheet.
 * @typedef {"first" | "stock" | "box" | "table"} Name
 */

/** @param {Name} name @returns {HTMLDialogElement} */
const dialog = (name) => by(`${name}-dialog`, HTMLDialogElement);

/** @param {Exclude<Name, "box">} name @returns {HTMLFormElement} the form in a dialog */
export const formIn = (name) => by(`${name}-form`, HTMLFormElement);

/** @param {Name} name */
export function open(name) {
  if (!isOpen(name)) dialog(name).showModal();
}

/** @param {Name} name */
export function close(name) {
  dialog(name).close();
}

/** @param {Name} name @returns {boolean} */
export function isOpen(name) {
  return dialog(name).open;
}
