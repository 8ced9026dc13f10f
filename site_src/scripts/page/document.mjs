/**
 * The form as a budget document, and its list of rows. No sums, no units: texts go through as typed.
 *
 * @typedef {{[key: string]: any}} Budget
 * @typedef {HTMLInputElement | HTMLSelectElement} Field
 */

export const MOST_ROWS = 60; // as in calc/document/blocks.py; more are kept, and not shown

/** @param {unknown} value @returns {value is Budget} */
export function isBudget(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** @param {Budget} budget @returns {string} its name, "" if it has none that is a text */
export function nameOf(budget) {
  return typeof budget.name === "string" ? budget.name : "";
}

/** @param {any} part @param {string} otherwise @returns {string} its name, else its kind, if one of them is a text */
export function calledOr(part, otherwise) {
  if (!isBudget(part)) return otherwise;
  return nameOf(part) || (typeof part.kind === "string" && part.kind) || otherwise;
}

/** @param {Budget} document @param {string} [list] @returns {any[]} the rows of a list of it, [] if they are no list */
export function rowsOf(document, list = "gear") {
  return Array.isArray(document[list]) ? document[list] : [];
}

/**
 * Put a value at a path such as `gear.0.mass`; undefined takes away what stands there.
 * @param {Budget} document @param {string} path @param {unknown} value
 */
function put(document, path, value) {
  const keys = path.split(".");
  const last = /** @type {string} */ (keys.pop());
  /** @type {any} */
  let place = document;
  keys.forEach((key, index) => {
    const isList = /^\d+$/.test(keys[index + 1] ?? last);
    // What cannot hold the entry (told beside the form while it stands there) gives way once something is typed.
    if (!(isList ? Array.isArray(place[key]) : isBudget(place[key]))) place[key] = isList ? [] : {};
    place = place[key];
  });
  if (value !== undefined) place[last] = value;
  else delete place[last];
  const [block, more] = keys;
  if (block && !more && Object.keys(place).length === 0) delete document[block]; // nothing is left of it
}

/** @param {HTMLFormElement} form @returns {Field[]} */
function fields(form) {
  const entries = /** @type {Element[]} */ ([...form.elements]);
  return entries
    .filter((entry) => entry instanceof HTMLInputElement || entry instanceof HTMLSelectElement)
    .filter(({ name }) => name);
}

/** @param {Field} field @returns {string | true | undefined} what it holds; undefined for nothing */
function held(field) {
  if (field instanceof HTMLInputElement && field.type === "checkbox") return field.checked || undefined;
  return field.value === "" ? undefined : field.value;
}

/** @param {Field} field @returns {boolean} whether it still holds what it was shown with */
function untouched(field) {
  if (field instanceof HTMLSelectElement) return field.selectedOptions[0]?.defaultSelected ?? true;
  return field.type === "checkbox" ? field.checked === field.defaultChecked : field.value === field.defaultValue;
}

/** Read all that stands in a form. @param {HTMLFormElement} form @returns {Budget} */
export function collect(form) {
  /** @type {Budget} */
  const document = {};
  for (const field of fields(form)) put(document, field.name, held(field));
  return document;
}

/**
 * Read the document in the form: the one that was shown in it, with what was changed since. What the form does not show
 * (fields of another edition, rows past the last one shown, entries that are no text) stays as it came.
 * @param {HTMLFormElement} form @param {Budget} shown @returns {Budget}
 */
export function edited(form, shown) {
  const document = { format: 1, ...structuredClone(shown) };
  for (const field of fields(form)) if (!untouched(field)) put(document, field.name, held(field));
  return document;
}

/**
 * Return the document with the rows of a list changed: one moved by one place, or removed.
 * @param {Budget} document @param {string} list @param {"row-up" | "row-down" | "row-remove"} what
 * @param {number} index
 * @returns {Budget}
 */
export function withRows(document, list, what, index) {
  const rows = [...rowsOf(document, list)];
  const to = what === "row-up" ? index - 1 : index + 1;
  if (what === "row-remove") rows.splice(index, 1);
  else rows.splice(to, 0, ...rows.splice(index, 1));
  return { ...document, [list]: rows };
}

/**
 * Return the document with a row moved.
 * @param {Budget} document
 * @param {string} list
 * @param {number} from
 * @param {number} to
 * @returns {Budget}
 */
export function withMoved(document, list, from, to) {
  const rows = rowsOf(document, list);
  return { ...document, [list]: rows.toSpliced(from, 1).toSpliced(to, 0, rows[from]) };
}

/**
 * Return the document with a row put in.
 * @param {Budget} document
 * @param {string} list
 * @param {number} index
 * @param {unknown} row
 * @returns {Budget}
 */
export function withRow(document, list, index, row) {
  return { ...document, [list]: rowsOf(document, list).toSpliced(index, 0, row) };
}

/**
 * Return the document with one place of it as it is in another: `cell`, or a row such as `gear.1` or `airframe.2`.
 * @param {Budget} document
 * @param {string} path
 * @param {Budget} other
 * @returns {Budget}
 */
export function withPart(document, path, other) {
  if (path === "cell") return { ...document, cell: other.cell };
  const [list = "", number] = path.split(".");
  const index = Number(number);
  return {
    ...document,
    [list]: rowsOf(document, list).map((row, at) => (at === index ? rowsOf(other, list)[at] : row)),
  };
}
