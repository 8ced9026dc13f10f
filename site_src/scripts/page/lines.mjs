/** The lines of the tables of rows: which list they are of, and an empty one. */
import { by } from "./dom.mjs";

/** @param {Element} place a table of rows, or what stands in it @returns {string} the list's key in the document */
export const listOf = (place) => /** @type {HTMLElement | null} */ (place.closest(".rows"))?.dataset.list ?? "gear";

/** @param {EventTarget | null} target @returns {HTMLElement | null} the line that an event is about */
export const lineOf = (target) =>
  target instanceof Element ? /** @type {HTMLElement | null} */ (target.closest(".rows .line")) : null;

/** @param {HTMLElement} line @returns {string} its row: a number, or `cell` */
export const rowOf = (line) => line.dataset.row ?? "";

/** @param {string} list @returns {HTMLElement[]} the lines of a list as they stand */
export const lines = (list) =>
  /** @type {HTMLElement[]} */ ([...document.querySelectorAll(`.rows[data-list="${list}"] tbody .line`)]);

/** @param {string} list @param {number} index @returns {Node} a line that waits for the next row */
export function emptyLine(list, index) {
  const template = /** @type {HTMLTemplateElement} */ (by(`${list}-blank`));
  const line = /** @type {HTMLElement} */ (
    /** @type {Element} */ (template.content.querySelector(".line")).cloneNode(true)
  );
  for (const each of [line, ...line.querySelectorAll("*")]) {
    for (const { name, value } of [...each.attributes]) {
      if (value.includes("__")) each.setAttribute(name, value.replaceAll("__", String(index)));
    }
  }
  return line;
}
