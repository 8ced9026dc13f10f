/**
 * Changes to budgets that came by link: they stay with the tab, under the fragment of the link.
 *
 * @typedef {import("../document.mjs").Budget} Budget
 */
import { KEYS, parsed, tab, texts } from "./texts.mjs";

/** @param {string} fragment @returns {Budget | null} */
export function draft(fragment) {
  return parsed(texts.read(KEYS.shared + fragment, tab));
}

/** @param {string} fragment @param {Budget} budget @returns {boolean} whether it outlasts this page */
export function saveDraft(fragment, budget) {
  return texts.write(KEYS.shared + fragment, JSON.stringify(budget), tab);
}

/** @param {string} fragment */
export function dropDraft(fragment) {
  texts.drop(KEYS.shared + fragment, tab);
}

/** The changes to a budget that came by one link now stand under another. @param {string} from @param {string} to */
export function moveDraft(from, to) {
  const moved = parsed(texts.read(KEYS.moved, tab)) ?? {};
  const origins = Object.keys(moved).filter((origin) => moved[origin] === from);
  for (const origin of origins.length ? origins : [from]) moved[origin] = to;
  texts.write(KEYS.moved, JSON.stringify(moved), tab);
  dropDraft(from);
}

/** @param {string} fragment @returns {string} the fragment under which this tab's changes to that budget stand */
export function draftAt(fragment) {
  const to = parsed(texts.read(KEYS.moved, tab))?.[fragment];
  return typeof to === "string" && draft(to) ? to : fragment;
}
