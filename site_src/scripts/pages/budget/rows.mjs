/** The rows of gear: added, moved, removed, and a draw that stands in for one nobody told. */
import { calledOr, MOST_ROWS, rowsOf, withMoved, withPart, withRow, withRows } from "../../page/document.mjs";
import { by } from "../../page/dom.mjs";
import { focusRow, goTo } from "../../page/focus.mjs";
import { GearTable } from "../../page/gear.mjs";
import { Weighing } from "../../page/weigh.mjs";
import { fail } from "./answers.mjs";

/** @typedef {import("../../page/focus.mjs").RowChange} RowChange */

/** @param {HTMLElement} button @returns {string} the place that it belongs to, as a path of the budget */
export const pathOf = ({ dataset: { row } }) => (row === "cell" ? "cell" : `gear.${row}`);

/** @param {string} path of a place @returns {string} what the ids of its fields begin with */
export const idOf = (path) => path.replace(".", "-");

export class Rows {
  #open;
  #engine;

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "row-up": ({ dataset }) => this.#change("row-up", Number(dataset.row)),
    "row-down": ({ dataset }) => this.#change("row-down", Number(dataset.row)),
    "row-remove": ({ dataset }) => this.#remove(Number(dataset.row)),
    "line-more": (button) => GearTable.more(button),
    "line-open": ({ dataset }) => this.#table.open(dataset.row ?? ""),
    "line-step": ({ dataset }) => this.#table.step(dataset.row ?? "", Number(dataset.step)),
    "line-close": () => this.#table.close(),
    weigh: () => this.#weighing.open(),
    "weigh-next": () => this.#weighing.step(1),
    "weigh-back": () => this.#weighing.step(-1),
    "weigh-close": () => this.#weighing.close(),
    "usual-draw": ({ dataset: { path = "" } }) => this.#takeUsualDraw(path),
  };

  #table;
  #weighing = new Weighing();

  /**
   * @param {import("./open.mjs").OpenBudget} open
   * @param {import("./answers.mjs").Answers} answers
   */
  constructor(open, answers) {
    this.#open = open;
    this.#engine = answers.engine;
    this.#table = new GearTable(by("form"), (from, to) => this.#move(from, to).catch(fail));
    answers.onAnswer(() => this.#weighing.answered());
  }

  /** @param {number} from @param {number} to */
  async #move(from, to) {
    const changed = withMoved(this.#open.current(), from, to);
    if (await this.#open.replace(changed)) by(`gear-${to}-name`).focus();
  }

  /** Add, move or remove a row, and keep the focus where the hand is. @param {RowChange} what @param {number} index */
  async #change(what, index) {
    const before = this.#open.current();
    const changed = withRows(before, what, index);
    const done = await this.#open.replace(changed);
    if (done) focusRow(what, index, Math.min(changed.gear.length, MOST_ROWS));
    return done;
  }

  /** Remove a row, with a way back. @param {number} index */
  async #remove(index) {
    const open = this.#open;
    const gone = rowsOf(open.current())[index];
    if (!(await this.#change("row-remove", index))) return;
    open.undo.add(`“${calledOr(gone, "The row")}” is removed.`, async () => {
      if (await open.replace(withRow(open.current(), index, gone))) focusRow("row-remove", index, index + 1);
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
