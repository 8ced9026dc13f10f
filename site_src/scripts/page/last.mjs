/**
 * The answer of last time, shown to a returning visitor until the sums have started: kept as plain texts, put in as
 * texts. A mark comes from the page's own template, by a word that must be one of its own.
 *
 * @typedef {import("./document.mjs").Budget} Budget
 * @typedef {{is: string, name: string, word: string, line: string}} Tile
 * @typedef {{id: string, is: string, of: string, first: string, rest: string, bar: string, run: string, tiles:
 *   Tile[], foot: string[], texts: Record<string, string>}} Last
 */
import { rowsOf } from "./document.mjs";
import { by } from "./dom.mjs";
import { emptyLine } from "./lines.mjs";

const LAST = "thistledown.last"; // in the browser's store
const SOON = 400; // ms after an answer
const MARKS = new Set(["fits", "close", "part", "over", "fails", "none"]);
const PLACES = ".brief[id], .gear .counts[id], .told-name, .told-mass, .told-rest";

/** @param {Element | null | undefined} place @returns {string} */
const textOf = (place) => (place?.textContent ?? "").replaceAll(/[ \n]+/g, " ").trim();
/** @param {string} tag @param {string} name of its class @param {string} text @returns {HTMLElement} */
const made = (tag, name, text) => Object.assign(document.createElement(tag), { className: name, textContent: text });

/** @returns {Element[]} the sum under the gear, and what is left */
const footCells = () => [...document.querySelectorAll("#gear-foot th, #gear-foot td")];

/**
 * @param {Element} place that has one of the words as a class, after a prefix
 * @param {string} prefix
 * @returns {string}
 */
const isOf = (place, prefix) =>
  [...place.classList].find((name) => name.startsWith(prefix))?.slice(prefix.length) ?? "none";

/** @param {Element} place @returns {string} a name for a place whose text is kept */
const keyOf = (place) => place.id || `${place.closest("button")?.id} ${place.className}`;

/** Keeps what is shown as the last answer, once nothing was typed for a moment. */
class Keeper {
  #timer = 0;
  #id = "";

  constructor() {
    window.addEventListener("pagehide", () => this.#keep());
  }

  /** @param {string} id of the budget it is of, "" if it is nobody's own */
  keep(id) {
    clearTimeout(this.#timer);
    this.#id = id;
    this.#timer = window.setTimeout(() => this.#keep(), SOON);
  }

  #keep() {
    clearTimeout(this.#timer);
    if (this.#id) keep(this.#id);
    this.#id = "";
  }
}

export const keeper = new Keeper();

/** @param {string} id */
function keep(id) {
  const verdict = by("verdict");
  const said = verdict.querySelector("p");
  const rest = textOf(said?.querySelector(".rest"));
  /** @type {Last} */
  const last = {
    id,
    is: isOf(verdict, "verdict-"),
    of: textOf(verdict.querySelector(".of")),
    first: textOf(said?.firstChild?.nodeType === Node.TEXT_NODE ? /** @type {any} */ (said.firstChild) : said),
    rest,
    bar: textOf(document.querySelector(".bar-word")),
    run: textOf(document.querySelector(".bar-run")),
    tiles: [...document.querySelectorAll(".tile")].map((tile) => ({
      is: isOf(tile, "is-"),
      name: textOf(
        tile.querySelector("b")?.firstChild ? /** @type {any} */ (tile.querySelector("b")).firstChild : null,
      ),
      word: textOf(tile.querySelector(".tile-word")),
      line: textOf(tile.querySelector(".tile-line")),
    })),
    foot: footCells().map(textOf),
    texts: Object.fromEntries([...document.querySelectorAll(PLACES)].map((place) => [keyOf(place), textOf(place)])),
  };
  try {
    localStorage.setItem(LAST, JSON.stringify(last));
  } catch {
    // No room: the next visit begins without it.
  }
}

/** @param {string} id @returns {Last | null} what was kept of this budget, if it has the shape that it should have */
function kept(id) {
  try {
    const last = JSON.parse(localStorage.getItem(LAST) ?? "null");
    const sound =
      last?.id === id &&
      Array.isArray(last.tiles) &&
      Array.isArray(last.foot) &&
      typeof last.texts === "object" &&
      last.texts;
    return sound ? last : null;
  } catch {
    return null;
  }
}

/**
 * Show a budget with its answer of last time. Nothing in it is trusted: all goes in as text.
 * @param {string} id @param {Budget} budget @returns {boolean} whether there was one
 */
export function showLast(id, budget) {
  const last = kept(id);
  if (!last) return false;
  document.documentElement.dataset.last = "";
  const verdict = by("verdict");
  verdict.className = `headline verdict-${word(last.is)}`;
  const said = made("p", "", `${last.first} `);
  said.append(made("span", "rest", String(last.rest)));
  const text = document.createElement("div");
  text.append(made("h2", "of", String(last.of)), said);
  verdict.replaceChildren(mark(last.is), text);
  by("bar").replaceChildren(
    mark(last.is),
    made("span", "bar-word", String(last.bar)),
    made("span", "bar-run", String(last.run)),
  );
  for (const [index, place] of [...document.querySelectorAll(".tile")].entries()) showTile(place, last.tiles[index]);
  for (const [index, cell] of footCells().entries()) cell.textContent = String(last.foot[index] ?? "");
  showRows(budget);
  fill(budget);
  for (const place of document.querySelectorAll(PLACES)) place.textContent = String(last.texts[keyOf(place)] ?? "");
  return true;
}

/** @returns {boolean} whether what the page shows is a budget with its answer of last time */
export const isLastShown = () => document.documentElement.dataset.last !== undefined;

/** The computed answer is there. */
export function forgetLast() {
  delete document.documentElement.dataset.last;
}

/** @param {unknown} is @returns {string} one of the words that marks have */
const word = (is) => (MARKS.has(String(is)) ? String(is) : "none");

/** @param {unknown} is @returns {Node} */
function mark(is) {
  const marks = /** @type {HTMLTemplateElement} */ (by("marks")).content;
  return /** @type {Element} */ (marks.querySelector(`.mark-${word(is)}`)).cloneNode(true);
}

/** @param {Element} place @param {Tile | undefined} tile */
function showTile(place, tile) {
  if (!tile) return;
  place.className = `tile is-${word(tile.is)}`;
  const name = made("b", "", String(tile.name));
  name.append(made("span", "tile-word", tile.word ? ` ${tile.word}` : ""));
  const text = document.createElement("span");
  text.append(name, " ", made("span", "tile-line", String(tile.line)));
  place.replaceChildren(mark(tile.is), text);
}

/** Make the table have as many lines as the budget has parts. @param {Budget} budget */
function showRows(budget) {
  const body = /** @type {HTMLElement} */ (document.querySelector(".gear tbody"));
  const cell = by("gear-cell");
  const rows = rowsOf(budget).slice(0, Number(body.dataset.most));
  body.replaceChildren(...[...rows, null].map((_, index) => emptyLine("gear", index)), cell);
  for (const index of rows.keys()) by(`gear-${index}`).classList.remove("blank");
}

/** Put a budget's entries into the form. @param {Budget} budget */
function fill(budget) {
  for (const field of document.querySelectorAll("#form [name]")) {
    if (field.closest(".blank")) continue;
    const name = field.getAttribute("name") ?? "";
    const value = name.split(".").reduce((/** @type {any} */ block, key) => block?.[key], budget);
    if (field instanceof HTMLInputElement && field.type === "checkbox") field.checked = value === true;
    else if (field instanceof HTMLInputElement)
      field.value = ["string", "number"].includes(typeof value) ? String(value) : "";
    else if (field instanceof HTMLSelectElement) choose(field, value);
  }
}

/** @param {HTMLSelectElement} field @param {unknown} value nothing for its default */
function choose(field, value) {
  const wanted = value ?? field.dataset.default;
  const index = [...field.options].findIndex((option) => option.value === wanted);
  if (index >= 0) field.selectedIndex = index;
}
