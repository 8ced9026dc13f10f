/**
 * The budget that is held to compare with; it stays with the tab.
 *
 * @typedef {import("../document.mjs").Budget} Budget
 * @typedef {{place: string, budget: Budget, unasked?: boolean}} Kept what is held, where it was taken from, and whether
 *   the page held it by itself
 */
import { isBudget } from "../document.mjs";
import { KEYS, parsed, tab, texts } from "./texts.mjs";

/** @returns {Kept | null} */
export function load() {
  const kept = parsed(texts.read(KEYS.held, tab));
  if (!kept || typeof kept.place !== "string" || !isBudget(kept.budget)) return null;
  return { place: kept.place, budget: kept.budget, unasked: kept.unasked === true };
}

/** @param {Kept} kept */
export function save(kept) {
  texts.write(KEYS.held, JSON.stringify(kept), tab);
}

export function drop() {
  texts.drop(KEYS.held, tab);
}
