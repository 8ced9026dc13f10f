/**
 * The form as a budget document, and its list of rows. No sums, no units: texts go through as typed.
 *
 * @typedef {{[key: string]: any}} Budget
 */

/**
 * Put a value at a path such as `gear.0.mass`.
 * @param {Budget} document @param {string} path @param {unknown} value
 */
function put(document, path, value) {
  const keys = path.split(".");
  const last = /** @type {string} */ (keys.pop());
  /** @type {any} */
  let place = document;
  keys.forEach((key, index) => {
    const next = keys[index + 1] ?? last;
    if (place[key] === undefined) place[key] = /^\d+$/.test(next) ? [] : {};
    place = place[key];
  });
  place[last] = value;
}

/**
 * Read the document in the form. Empty fields are left out, and choices that were never made and stand at their
 * default; a row stays even if it is empty.
 * @param {HTMLFormElement} form @returns {Budget}
 */
export function collect(form) {
  /** @type {Budget} */
  const document = { format: 1 };
  form.querySelectorAll("[data-row]").forEach((row) => {
    if (row instanceof HTMLLIElement) put(document, `gear.${row.dataset.row}`, {});
  });
  for (const field of form.elements) {
    if (field instanceof HTMLInputElement && field.type === "checkbox") {
      if (field.checked) put(document, field.name, true);
    } else if ((field instanceof HTMLInputElement || field instanceof HTMLSelectElement) && field.name) {
      if (field.value !== "" && field.value !== field.dataset.default) put(document, field.name, field.value);
    }
  }
  return document;
}

/**
 * Return the document with its rows changed: added at the end, moved, or removed.
 * @param {Budget} document @param {"row-add" | "row-up" | "row-down" | "row-remove"} what @param {number} index
 * @returns {Budget}
 */
export function withRows(document, what, index) {
  const rows = [...(document.gear ?? [])];
  const to = what === "row-up" ? index - 1 : index + 1;
  if (what === "row-add") rows.push({ kind: "other", known_by: "maker" });
  else if (what === "row-remove") rows.splice(index, 1);
  else rows.splice(to, 0, ...rows.splice(index, 1));
  return { ...document, gear: rows };
}
