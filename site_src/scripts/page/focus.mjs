/** Where the focus goes. */
import { by } from "./dom.mjs";

/** @typedef {"row-up" | "row-down" | "row-remove"} RowChange */

/** @param {string} id */
export function focus(id) {
  document.getElementById(id)?.focus();
}

/**
 * Put the focus on the row that was moved, or that stands where one was removed.
 * @param {string} list
 * @param {RowChange} what
 * @param {number} index
 * @param {number} rows
 */
export function focusRow(list, what, index, rows) {
  const last = Math.max(0, rows - 1);
  const to = { "row-up": index - 1, "row-down": index + 1, "row-remove": Math.min(index, last) }[what];
  const tool = document.getElementById(`${list}-${to}-${what.slice("row-".length)}`);
  const [name, next] = by(`${list}-${to}`).querySelectorAll("td:not(.no, .panel) input");
  const entry = what === "row-remove" ? name : (next ?? name);
  const moved = what !== "row-remove" && tool instanceof HTMLButtonElement && !tool.disabled;
  /** @type {HTMLElement | undefined} */ (moved ? tool : entry)?.focus();
}

/** Open all that a place is folded away in, itself as well. @param {Element} place */
export function openAround(place) {
  const panel = place.closest(".panel");
  if (panel instanceof HTMLElement) panel.hidden = false;
  for (let fold = place.closest("details"); fold; fold = fold.parentElement?.closest("details") ?? null)
    fold.open = true;
}

/** Go to a field, opened where it is folded; to the part it stands in if there is no such field. @param {string} id */
export function goTo(id) {
  const place = document.getElementById(id) ?? document.getElementById(`part-${id.split("-")[0]}`);
  if (place) openAround(place);
  place?.focus();
  place?.scrollIntoView({ block: "center" });
}
