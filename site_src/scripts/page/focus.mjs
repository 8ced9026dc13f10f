/** Where the focus goes. */
import { by } from "./dom.mjs";

/** @typedef {"row-add" | "row-up" | "row-down" | "row-remove"} RowChange */

/** @param {string} id */
export function focus(id) {
  document.getElementById(id)?.focus();
}

/**
 * Put the focus on the row that was moved or added.
 * @param {RowChange} what
 * @param {number} index
 * @param {number} rows
 */
export function focusRow(what, index, rows) {
  const last = rows - 1;
  const to = { "row-up": index - 1, "row-down": index + 1, "row-add": last, "row-remove": Math.min(index, last) }[what];
  const tool = document.getElementById(`gear-${to}-${what === "row-add" ? "kind" : what.slice("row-".length)}`);
  const disabled = tool instanceof HTMLButtonElement && tool.disabled;
  const place = disabled ? document.getElementById(`gear-${to}-mass`) : tool;
  (place ?? by("row-add")).focus();
}

/** Go to a field, opened where it is folded; to the part it stands in if there is no such field. @param {string} id */
export function goTo(id) {
  const place = document.getElementById(id) ?? document.getElementById(`part-${id.split("-")[0]}`);
  for (let fold = place?.closest("details"); fold; fold = fold.parentElement?.closest("details")) fold.open = true;
  place?.focus();
  place?.scrollIntoView({ block: "center" });
}
