/** Where the focus goes. */
import { by } from "./dom.mjs";

/** @typedef {"row-up" | "row-down" | "row-remove"} RowChange */

/** @param {string} id */
export function focus(id) {
  document.getElementById(id)?.focus();
}

/**
 * Put the focus on the row that was moved, or that stands where one was removed.
 * @param {RowChange} what
 * @param {number} index
 * @param {number} rows
 */
export function focusRow(what, index, rows) {
  const last = rows - 1;
  const to = { "row-up": index - 1, "row-down": index + 1, "row-remove": Math.min(index, last) }[what];
  const tool = document.getElementById(`gear-${to}-${what === "row-remove" ? "name" : what.slice("row-".length)}`);
  const disabled = tool instanceof HTMLButtonElement && tool.disabled;
  const place = disabled ? document.getElementById(`gear-${to}-mass`) : tool;
  (place ?? document.getElementById(`gear-${to}-name`) ?? by("gear-cell-told")).focus();
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
