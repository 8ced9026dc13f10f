/**
 * The visitor's budgets on this device: one entry of localStorage for each, so that one damaged entry costs no other.
 * What the browser does not keep (full, forbidden) lives in this page's memory, so that nothing is dropped unasked.
 *
 * @typedef {import("./document.mjs").Budget} Budget
 */
import { isBudget, nameOf } from "./document.mjs";

const PREFIX = "thistledown.budget.";
const CURRENT = "thistledown.current";
const SHARED = "thistledown.shared.";
const HELD = "thistledown.held";
const BOX = "thistledown.box";

/** @type {Map<string, string>} what is kept in this page alone, by key */
const memory = new Map();
/** @type {Map<string, string>} the text of each budget as this page last read or wrote it, by id */
const known = new Map();

/** @param {string} key @param {() => Storage} place @returns {string | null} */
function read(key, place) {
  const here = memory.get(key);
  if (here !== undefined) return here;
  try {
    return place().getItem(key);
  } catch {
    return null;
  }
}

/** @param {string} key @param {string} text @param {() => Storage} place @returns {boolean} whether it outlasts this page */
function write(key, text, place) {
  try {
    place().setItem(key, text);
    memory.delete(key);
    return true;
  } catch {
    memory.set(key, text);
    return false;
  }
}

const device = () => localStorage;
const tab = () => sessionStorage;

/** @param {string | null} text @returns {Budget | null} */
function parsed(text) {
  try {
    const value = JSON.parse(text ?? "null");
    return isBudget(value) ? value : null;
  } catch {
    return null;
  }
}

/** @returns {string[]} the ids of all entries, oldest first */
function ids() {
  let keys = [...memory.keys()];
  try {
    keys = keys.concat(Object.keys(localStorage));
  } catch {
    // A browser that stores nothing lists nothing.
  }
  return [...new Set(keys)].filter((key) => key.startsWith(PREFIX)).map((key) => key.slice(PREFIX.length)).sort();
}

/** @returns {string} an id for a new budget */
export function newId() {
  return `${Date.now().toString(36)}${Math.random().toString(36).slice(2, 6)}`;
}

/** @returns {{id: string, name: string}[]} the visitor's budgets, oldest first */
export function list() {
  return ids().flatMap((id) => {
    const budget = parsed(read(PREFIX + id, device));
    return budget ? [{ id, name: nameOf(budget).slice(0, 80) || "without a name" }] : [];
  });
}

/** @returns {{id: string, text: string}[]} entries that hold no budget: damaged, or not ours */
export function damaged() {
  return ids().flatMap((id) => {
    const text = read(PREFIX + id, device) ?? "";
    return parsed(text) ? [] : [{ id, text }];
  });
}

/** @param {string} id @returns {Budget | null} */
export function load(id) {
  const text = read(PREFIX + id, device);
  if (text !== null) known.set(id, text);
  return parsed(text);
}

/** @param {string} id @returns {boolean} whether another tab changed or removed a budget since this page read or wrote it */
export function changedElsewhere(id) {
  return known.has(id) && known.get(id) !== (read(PREFIX + id, device) ?? "");
}

/** @param {string} id @param {Budget} budget @returns {boolean} whether it outlasts this page */
export function save(id, budget) {
  const text = JSON.stringify(budget);
  known.set(id, text);
  const done = write(PREFIX + id, text, device);
  choose(id);
  return done;
}

/** @param {string} id */
export function choose(id) {
  write(CURRENT, JSON.stringify(id), device);
}

/** @param {string} id */
export function remove(id) {
  memory.delete(PREFIX + id);
  known.delete(id);
  try {
    localStorage.removeItem(PREFIX + id);
  } catch {
    // A browser that stores nothing has nothing to remove.
  }
}

/** @returns {string | null} the id of the budget last worked on, if it is still there, or of the newest one */
export function current() {
  const all = list().map(({ id }) => id);
  try {
    const id = JSON.parse(read(CURRENT, device) ?? "null");
    if (all.includes(id)) return id;
  } catch {
    // Damaged: the newest one, then.
  }
  return all.at(-1) ?? null;
}

/** @returns {boolean} whether something typed would be lost with this page */
export function onlyHere() {
  return [...memory.keys()].some((key) => key === BOX || key.startsWith(PREFIX) || key.startsWith(SHARED));
}

/** Tell of changes that another tab makes. @param {(id: string) => void} act */
export function onChange(act) {
  addEventListener("storage", ({ key, storageArea }) => {
    if (storageArea === localStorage && key?.startsWith(PREFIX)) act(key.slice(PREFIX.length));
  });
}

/** Edits to a budget that came by link stay with the tab. @param {string} fragment @returns {Budget | null} */
export function sharedDraft(fragment) {
  return parsed(read(SHARED + fragment, tab));
}

/** @param {string} fragment @param {Budget} budget @returns {boolean} whether it outlasts this page */
export function saveSharedDraft(fragment, budget) {
  return write(SHARED + fragment, JSON.stringify(budget), tab);
}

/** @param {string} fragment */
export function dropSharedDraft(fragment) {
  dropOfTab(SHARED + fragment);
}

/** @param {string} key */
function dropOfTab(key) {
  memory.delete(key);
  try {
    sessionStorage.removeItem(key);
  } catch {
    // Nothing was kept.
  }
}

/** @returns {Budget | null} the visitor's box of parts, null while there is none */
export function box() {
  return parsed(read(BOX, device));
}

/** @param {Budget} value @returns {boolean} whether it outlasts this page */
export function saveBox(value) {
  return write(BOX, JSON.stringify(value), device);
}

/** Tell when another tab changes the box. @param {() => void} act */
export function onBoxChange(act) {
  addEventListener("storage", ({ key, storageArea }) => {
    if (storageArea === localStorage && key === BOX) act();
  });
}

/** The budget held to compare with, and where it was taken from, stay with the tab. @returns {{place: string, budget: Budget} | null} */
export function held() {
  const kept = parsed(read(HELD, tab));
  return kept && typeof kept.place === "string" && isBudget(kept.budget) ? { place: kept.place, budget: kept.budget } : null;
}

/** @param {{place: string, budget: Budget}} kept */
export function hold(kept) {
  write(HELD, JSON.stringify(kept), tab);
}

export function letGo() {
  dropOfTab(HELD);
}
