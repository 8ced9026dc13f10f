/**
 * The visitor's budgets on this device: one entry of localStorage for each, so that one damaged entry costs no other
 * and two tabs do not overwrite each other's. Every function survives a browser that stores nothing.
 *
 * @typedef {{[key: string]: any}} Budget
 */
const PREFIX = "thistledown.budget.";
const CURRENT = "thistledown.current";

/** @param {string} key @param {Storage} [place] @returns {any} */
function get(key, place) {
  try {
    const text = (place ?? localStorage).getItem(key);
    return text === null ? null : JSON.parse(text);
  } catch {
    return null;
  }
}

/** @param {string} key @param {unknown} value @param {Storage} [place] @returns {boolean} whether it was kept */
function set(key, value, place) {
  try {
    (place ?? localStorage).setItem(key, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

/** @returns {string} an id for a new budget */
export function newId() {
  return `${Date.now().toString(36)}${Math.random().toString(36).slice(2, 6)}`;
}

/** @param {unknown} value @returns {value is Budget} */
function isBudget(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** @returns {{id: string, name: string}[]} the visitor's budgets, oldest first */
export function list() {
  try {
    const ids = Object.keys(localStorage).filter((key) => key.startsWith(PREFIX)).map((key) => key.slice(PREFIX.length));
    return ids.sort().flatMap((id) => {
      const budget = load(id);
      return budget ? [{ id, name: String(budget.name ?? "").slice(0, 80) || "without a name" }] : [];
    });
  } catch {
    return [];
  }
}

/** @param {string} id @returns {Budget | null} */
export function load(id) {
  const value = get(PREFIX + id);
  return isBudget(value) ? value : null;
}

/** @param {string} id @param {Budget} budget @returns {boolean} whether it was kept */
export function save(id, budget) {
  return set(PREFIX + id, budget) && set(CURRENT, id);
}

/** @param {string} id */
export function choose(id) {
  set(CURRENT, id);
}

/** @param {string} id */
export function remove(id) {
  try {
    localStorage.removeItem(PREFIX + id);
  } catch {
    // A browser that stores nothing has nothing to remove.
  }
}

/** @returns {string | null} the id of the budget last worked on, if it is still there */
export function current() {
  const id = get(CURRENT);
  return typeof id === "string" && load(id) ? id : null;
}

/** Edits to a budget that came by link stay with the tab. @param {string} fragment @returns {Budget | null} */
export function sharedDraft(fragment) {
  try {
    const value = get(`thistledown.shared.${fragment}`, sessionStorage);
    return isBudget(value) ? value : null;
  } catch {
    return null;
  }
}

/** @param {string} fragment @param {Budget} budget */
export function saveSharedDraft(fragment, budget) {
  try {
    set(`thistledown.shared.${fragment}`, budget, sessionStorage);
  } catch {
    // Without session storage an edited shared budget lasts as long as the page.
  }
}
