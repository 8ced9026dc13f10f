/** Log files of altimeters: opened, put right, their flights looked at, borders moved, taken into the log. */
import { by } from "../../page/dom.mjs";
import { chooseFile } from "../../page/files.mjs";
import { focus, openAround } from "../../page/focus.mjs";
import { morph } from "../../page/morph.mjs";
import { fail } from "./answers.mjs";

/** Files that are nothing but logs; tables count as logs where they are chosen or dropped for it. */
export const LOG = /\.igc$/i;

const MOST = 20_000_001; // bytes; Python says what is too large
const GONE = "The file is not open any more: open it again.";

export class FlightLog {
  #open;
  #engine;
  #place = by("log");
  #log = 0; // the number of the file that is open
  #shown = 0; // the number of its flight that is looked at
  /** @type {Promise<unknown>} the last move of a border; the newest waits for the one before it to be answered */
  #moved = Promise.resolve();

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "log-open": () => chooseFile(".igc,.csv,.tsv,.txt,text/csv", (file) => this.take(file).catch(fail)),
    "log-show": ({ dataset }) => this.#show(Number(dataset.index), true),
    "log-found": ({ dataset }) => this.#show(Number(dataset.index), false, true),
    "log-take": ({ dataset }) => this.#take(Number(dataset.index)),
    "log-close": () => this.#close(),
  };

  /** @param {import("./open.mjs").OpenBudget} open @param {import("../../engine/engine.mjs").Engine} engine */
  constructor(open, engine) {
    this.#open = open;
    this.#engine = engine;
    const place = this.#place;
    place.addEventListener("input", (event) => {
      event.stopPropagation(); // nothing here is an entry of the budget
      if (event.target instanceof HTMLInputElement && event.target.dataset.border) this.#move(event.target).catch(fail);
    });
    place.addEventListener("change", (event) => this.#wish(event.target).catch(fail));
    place.addEventListener("pointerdown", (event) => this.#grasp(event));
  }

  /** @returns {{units: unknown}} the system of units that the budget is typed in */
  get #units() {
    return { units: this.#open.current().units };
  }

  /** @param {Element} target @returns {boolean} whether a file dropped there is a log */
  static isPlace(target) {
    return target.closest("#subject-flights") !== null;
  }

  /** Open a file. @param {File} file */
  async take(file) {
    const text = await file.slice(0, MOST).text();
    this.#put(await this.#engine.ask("log_open", { text, name: file.name, ...this.#units }));
    openAround(this.#place);
    focus("log-title");
    this.#place.scrollIntoView({ block: "nearest" });
  }

  /** @param {{log: number, flights: number, html: string, dropped?: boolean}} read */
  #put(read) {
    if (this.#isGone(read)) return;
    this.#log = read.log;
    this.#place.hidden = false;
    morph(this.#place, read.html);
    if (read.flights === 1) this.#show(0, false).catch(fail);
  }

  /** @param {{dropped?: boolean}} result @returns {boolean} */
  #isGone({ dropped = false }) {
    if (dropped) throw new Error(GONE);
    return dropped;
  }

  /** A column or a unit was chosen. @param {EventTarget | null} field */
  async #wish(field) {
    if (!(field instanceof HTMLInputElement || field instanceof HTMLSelectElement) || !field.dataset.wish) return;
    const asked = { log: this.#log, wish: field.dataset.wish, typed: field.value };
    const read = await this.#engine.ask("log_read", { ...asked, ...this.#units });
    if (asked.log !== this.#log) return;
    this.#put(read);
    focus(field.id);
  }

  /** @param {number} index @param {boolean} go whether the focus goes there @param {boolean} [found] as it was found */
  async #show(index, go, found = false) {
    const asked = { log: this.#log, flight: index, found, ...this.#units };
    await this.#moved; // else a move that still waits would come after it
    const result = await this.#engine.ask("log_flight", asked);
    if (asked.log !== this.#log || this.#isGone(result)) return; // put away meanwhile, or not there
    this.#shown = index;
    morph(by("log-flight"), result.html);
    for (const each of this.#borders()) each.value = each.defaultValue;
    if (go) focus("log-flight-title");
  }

  /** @returns {HTMLInputElement[]} what moves the borders */
  #borders() {
    return [...this.#place.querySelectorAll("input")].filter(({ dataset }) => dataset.border);
  }

  /** @param {HTMLInputElement} field */
  async #move(field) {
    const asked = { log: this.#log, flight: this.#shown, border: field.dataset.border, to: field.valueAsNumber };
    const moved = this.#engine.latest("log_move", { ...asked, ...this.#units });
    this.#moved = moved.catch(() => {}); // told below
    const result = await moved;
    if (result === null || asked.log !== this.#log || this.#isGone(result)) return;
    morph(by("log-graph"), result.picture);
    morph(by("log-figures"), result.figures);
    for (const { key, second, told } of result.borders) {
      const each = by(`log-${key}`, HTMLInputElement);
      if (each !== field) each.value = String(second);
      each.setAttribute("aria-valuetext", told);
      by(`log-${key}-told`).textContent = told;
    }
  }

  /** A handle of the graph is drawn along: its field follows, and all else that. @param {PointerEvent} event */
  #grasp(event) {
    const handle = event.target instanceof Element ? event.target.closest("[data-handle]") : null;
    if (!(handle instanceof SVGElement)) return;
    event.preventDefault();
    const field = by(`log-${handle.dataset.handle}`, HTMLInputElement);
    const { left, width } = /** @type {Element} */ (
      this.#place.querySelector(".plot-frame .plot")
    ).getBoundingClientRect();
    field.focus({ preventScroll: true });
    const follow = (/** @type {PointerEvent} */ { clientX }) => {
      const share = Math.min(1, Math.max(0, (clientX - left) / width));
      field.value = String(share * Number(field.max));
      field.dispatchEvent(new Event("input", { bubbles: true }));
    };
    const end = () => {
      removeEventListener("pointermove", follow);
      removeEventListener("pointerup", end);
      removeEventListener("pointercancel", end);
    };
    addEventListener("pointermove", follow);
    addEventListener("pointerup", end);
    addEventListener("pointercancel", end);
  }

  /** @param {number} index */
  async #take(index) {
    await this.#moved;
    const before = this.#open.current();
    const result = await this.#engine.ask("log_take", { log: this.#log, flight: index, document: before });
    if (result.full) throw new Error(result.full);
    if (this.#isGone(result)) return;
    const without = () => {
      const { flights: _, ...rest } = this.#open.current();
      return before.flights === undefined ? rest : { ...rest, flights: before.flights };
    };
    await this.#open.change(result.document, result.told, without, "The flights are as they were.");
  }

  #close() {
    const ignore = () => {}; // sums that have stopped hold nothing
    this.#engine.ask("log_close", { log: this.#log }).catch(ignore);
    this.#log = 0;
    this.#place.hidden = true;
    this.#place.replaceChildren();
    focus("log-open");
  }
}
