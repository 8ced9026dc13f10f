/** The rows of gear and of other lists: added, moved, removed; and a draw that stands in for one nobody told. */
import { calledOr, MOST_ROWS, rowsOf, withMoved, withPart, withRow, withRows } from "../../page/document.mjs";
import { by } from "../../page/dom.mjs";
import { focusRow, goTo } from "../../page/focus.mjs";
import { lineOf, listOf } from "../../page/lines.mjs";
import { RowTables } from "../../page/rowtable.mjs";
import { Weighing } from "../../page/weigh.mjs";
import { fail } from "./answers.mjs";

/** @typedef {import("../../page/focus.mjs").RowChange} RowChange */

/** @param {HTMLElement} button @returns {string} the place that it belongs to, as a path of the budget */
export const pathOf = (button) =>
  button.dataset.row === "cell" ? "cell" : `${button.dataset.list ?? "gear"}.${button.dataset.row}`;

/** @param {string} path of a place @returns {string} what the ids of its fields begin with */
export const idOf = (path) => path.replace(".", "-");

export class Rows {
  #open;
  #engine;

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "row-up": (button) => this.#change(listOf(button), "row-up", Number(button.dataset.row)),
    "row-down": (button) => this.#change(listOf(button), "row-down", Number(button.dataset.row)),
    "row-remove": (button) => this.#remove(listOf(button), Number(button.dataset.row)),
    "line-more": (button) => RowTables.more(button),
    "line-open": (button) => this.#tables.open(lineOf(button)),
    "line-step": (button) => this.#tables.step(lineOf(button), Number(button.dataset.step)),
    "line-close": () => this.#tables.close(),
    weigh: () => this.#weighing.open(),
    "weigh-next": () => this.#weighing.step(1),
    "weigh-back": () => this.#weighing.step(-1),
    "weigh-close": () => this.#weighing.close(),
    "usual-draw": ({ dataset: { path = "" } }) => this.#takeUsualDraw(path),
  };

  #tables;
  #weighing = new Weighing();

  /**
   * @param {import("./open.mjs").OpenBudget} open
   * @param {import("./answers.mjs").Answers} answers
   */
  constructor(open, answers) {
    this.#open = open;
    this.#engine = answers.engine;
    this.#tables = new RowTables(by("form"), (list, from, to) => this.#move(list, from, to).catch(fail));
    answers.onAnswer(() => this.#weighing.answered());
  }

  /** @param {string} list @param {number} from @param {number} to */
  async #move(list, from, to) {
    const changed = withMoved(this.#open.current(), list, from, to);
    if (!(await this.#open.replace(changed))) return;
    /** @type {HTMLElement | null} */ (by(`${list}-${to}`).querySelector("td:not(.no) input"))?.focus();
  }

  /**
   * Move or remove a row, and keep the focus where the hand is.
   * @param {string} list
   * @param {RowChange} what
   * @param {number} index
   */
  async #change(list, what, index) {
    const before = this.#open.current();
    const changed = withRows(before, list, what, index);
    const done = await this.#open.replace(changed);
    if (done) focusRow(list, what, index, Math.min(rowsOf(changed, list).length, MOST_ROWS));
    return done;
  }

  /** Remove a row, with a way back. @param {string} list @param {number} index */
  async #remove(list, index) {
    const open = this.#open;
    const gone = rowsOf(open.current(), list)[index];
    if (!(await this.#change(list, "row-remove", index))) return;
    open.undo.add(`“${calledOr(gone, "The row")}” is removed.`, async () => {
      if (await open.replace(withRow(open.current(), list, index, gone)))
        focusRow(list, "row-remove", index, index + 1);
    });
  }

  /** @param {string} path of the place whose draw nobody told */
  async #takeUsualDraw(path) {
    const open = this.#open;
    const before = open.current();
    const { document } = await this.#engine.ask("usual_draw", { document: before, path });
    const told = "The usual draw stands in, marked as a guess.";
    const without = () => withPart(open.current(), path, before);
    if (await open.change(document, told, without, "The row is as it was.")) goTo(`${idOf(path)}-draw`);
  }
}
