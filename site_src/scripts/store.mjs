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
const MOVED = "thistledown.moved"; // which link's budget now stands under which, since it was changed
const HELD = "thistledown.held";
const BOX = "thistledown.box";
const INFO = "thistledown.info.";
const OURS = /^[0-9a-z]{8}[0-9a-z]{1,6}$/; // the time in 36 digits, then what makes it another one
const DEEPEST = 100; // lists and groups within each other; a budget has four

/** @typedef {{text: string, place: () => Storage, before: string | null}} Waiting a text that found no room, and what stood in its place */
/** @type {Map<string, Waiting>} what is kept in this page alone, by key */
const memory = new Map();
/** @type {Map<string, {text: string, budget: Budget | null}>} what texts were read as, by id: not each one anew at each key */
const readAs = new Map();
/** @type {Map<string, string>} the text of each budget as this page last read or wrote it, by id */
const known = new Map();

/** @param {string} key @param {() => Storage} place @returns {string | null} */
function stored(key, place) {
  try {
    return place().getItem(key);
  } catch {
    return null;
  }
}

/** @param {string} key @param {() => Storage} place @returns {string | null} */
function read(key, place) {
  return memory.get(key)?.text ?? stored(key, place);
}

/** @param {string} key @param {string} text @param {() => Storage} place @returns {boolean} whether it outlasts this page */
function write(key, text, place) {
  try {
    place().setItem(key, text);
    memory.delete(key);
    writeWaiting();
    return true;
  } catch {
    memory.set(key, { text, place, before: memory.get(key)?.before ?? stored(key, place) });
    return false;
  }
}

/** Keep what found no room before, if there is room by now; never over what another tab wrote meanwhile. */
function writeWaiting() {
  for (const [key, { text, place, before }] of memory) {
    if (stored(key, place) !== before) continue;
    try {
      place().setItem(key, text);
      memory.delete(key);
    } catch {
      return;
    }
  }
}

const device = () => localStorage;
const tab = () => sessionStorage;

/** @param {string | null} text @returns {Budget | null} */
function parsed(text) {
  try {
    const value = tooDeep(text ?? "") ? null : JSON.parse(text ?? "null");
    return isBudget(value) ? value : null;
  } catch {
    return null;
  }
}

/** @param {string} text of JSON @returns {boolean} whether it is nested so deep that copying it, or the sums, would break off */
function tooDeep(text) {
  let depth = 0;
  for (const [sign] of text.matchAll(/"(?:[^"\\]|\\.)*"|[[{]|[\]}]/g)) {
    if (sign === "{" || sign === "[") depth += 1;
    else if (sign === "}" || sign === "]") depth -= 1;
    if (depth > DEEPEST) return true;
  }
  return false;
}

/** @param {string} id @returns {Budget | null} a saved budget, to be read and not to be changed */
function glance(id) {
  const text = read(PREFIX + id, device);
  const before = readAs.get(id);
  if (text !== null && before?.text === text) return before.budget;
  const budget = parsed(text);
  if (text !== null) readAs.set(id, { text, budget });
  return budget;
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

/** @returns {string} an id for a new budget, which sorts after all others even if the clock was set back */
export function newId() {
  const newest = Math.max(0, ...ids().filter((id) => OURS.test(id)).map((id) => Number.parseInt(id.slice(0, 8), 36)));
  return `${Math.max(Date.now(), newest + 1).toString(36)}${Math.random().toString(36).slice(2, 6).padEnd(4, "0")}`;
}

/** @typedef {{id: string, name: string, changed: number, from: string}} Listed when it was last changed, in ms since 1970, 0 if that is not known; and "link" if it came by one */

/** @returns {Listed[]} the visitor's budgets, oldest first */
export function list() {
  return ids().flatMap((id) => {
    const budget = glance(id);
    return budget ? [{ id, name: nameOf(budget).slice(0, 80) || "without a name", ...about(id) }] : [];
  });
}

/** @param {string} id @returns {{changed: number, from: string}} what is known of a budget beside itself */
export function about(id) {
  const { changed, from } = parsed(read(INFO + id, device)) ?? {};
  return { changed: typeof changed === "number" && changed > 0 ? changed : 0, from: from === "link" ? from : "" };
}

/** @param {string} name @returns {string | null} the id of the newest of the visitor's budgets that has this name */
export function named(name) {
  return (name && ids().findLast((id) => nameOf(glance(id) ?? {}) === name)) || null;
}

/** @returns {{id: string, text: string}[]} entries that hold no budget: damaged, or not ours */
export function damaged() {
  return ids().flatMap((id) => {
    return glance(id) ? [] : [{ id, text: read(PREFIX + id, device) ?? "" }];
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

/**
 * @param {string} id @param {Budget} budget
 * @param {{changed?: number, from?: string}} [more] when it was changed, if not now; where it came from, if that is new
 * @returns {boolean} whether it outlasts this page
 */
export function save(id, budget, { changed = Date.now(), from = about(id).from } = {}) {
  const text = JSON.stringify(budget);
  known.set(id, text);
  const done = write(PREFIX + id, text, device);
  write(INFO + id, JSON.stringify({ changed, from }), device);
  choose(id);
  return done;
}

/** @param {string} id */
export function choose(id) {
  write(CURRENT, JSON.stringify(id), device);
}

/** @param {string} id */
export function remove(id) {
  known.delete(id);
  readAs.delete(id);
  for (const key of [PREFIX + id, INFO + id]) drop(key, device);
  writeWaiting();
}

/** @returns {string | null} the id of the budget last worked on, if it is still there, or of the newest one */
export function current() {
  try {
    const id = JSON.parse(read(CURRENT, device) ?? "null");
    if (typeof id === "string" && glance(id)) return id;
  } catch {
    // Damaged: the newest one, then.
  }
  return ids().findLast((id) => glance(id)) ?? null;
}

/** @returns {boolean} whether something typed would be lost with this page */
export function onlyHere() {
  return [...memory.keys()].some((key) => key === BOX || key.startsWith(PREFIX) || key.startsWith(SHARED));
}

/** Tell of changes that another tab makes. @param {(id: string) => void} act */
export function onChange(act) {
  addEventListener("storage", ({ key, storageArea }) => {
    if (storageArea !== localStorage || !key?.startsWith(PREFIX)) return;
    writeWaiting();
    act(key.slice(PREFIX.length));
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

/** The changes to a budget that came by one link now stand under another. @param {string} from @param {string} to */
export function moveSharedDraft(from, to) {
  const moved = parsed(read(MOVED, tab)) ?? {};
  const origins = Object.keys(moved).filter((origin) => moved[origin] === from);
  for (const origin of origins.length ? origins : [from]) moved[origin] = to;
  write(MOVED, JSON.stringify(moved), tab);
  dropSharedDraft(from);
}

/** @param {string} fragment @returns {string} the fragment under which this tab's changes to that budget stand */
export function sharedAt(fragment) {
  const to = parsed(read(MOVED, tab))?.[fragment];
  return typeof to === "string" && sharedDraft(to) ? to : fragment;
}

/** @param {string} fragment */
export function dropSharedDraft(fragment) {
  drop(SHARED + fragment, tab);
}

/** @param {string} key @param {() => Storage} place */
function drop(key, place) {
  memory.delete(key);
  try {
    place().removeItem(key);
  } catch {
    // A browser that stores nothing has nothing to remove.
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

/** @typedef {{place: string, budget: Budget, unasked?: boolean}} KeptHeld what is held, where it was taken from, and whether the page held it by itself */

/** The budget held to compare with stays with the tab. @returns {KeptHeld | null} */
export function held() {
  const kept = parsed(read(HELD, tab));
  if (!kept || typeof kept.place !== "string" || !isBudget(kept.budget)) return null;
  return { place: kept.place, budget: kept.budget, unasked: kept.unasked === true };
}

/** @param {KeptHeld} kept */
export function hold(kept) {
  write(HELD, JSON.stringify(kept), tab);
}

export function letGo() {
  drop(HELD, tab);
}
