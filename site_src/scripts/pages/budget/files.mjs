/** Files of the budget page: a budget saved and opened, gear as CSV, parts put into the gear. */
import { EngineError } from "../../engine/engine.mjs";
import { trouble } from "../../page/answer.mjs";
import { nameOf } from "../../page/document.mjs";
import { download, LIST, onChosen, onDrop, WORKBOOK } from "../../page/files.mjs";
import { budgets } from "../../page/store/budgets.mjs";
import { chosen } from "../../page/toolbar.mjs";
import { fail } from "./answers.mjs";
import { FlightLog, LOG } from "./flightlog.mjs";

/**
 * @typedef {import("../../page/document.mjs").Budget} Budget
 * @typedef {{before: Budget, document: Budget, told: string, warned: string, plain: boolean}} Read `plain`: nothing
 *   is to be shown before it comes in
 */

const MOST = 1_100_000; // bytes; Python refuses more than it reads, whatever the letters
const LONGEST_NAME = 60; // letters
const STOPPED = "The file was left aside: the sums stopped while it was read.";

/** @param {Budget} budget @returns {string} a name for a file of it */
function fileName(budget) {
  const words = nameOf(budget).replace(/[^\p{L}\p{N}]+/gu, "-");
  const name = words.replace(/^-+|-+$/g, "").toLowerCase();
  return name.slice(0, LONGEST_NAME) || "budget";
}

export class Files {
  #open;
  #engine;
  #tables;
  #logs;
  /** @type {Promise<void>} until the last file that was chosen or dropped is opened */
  #opened = Promise.resolve();
  #choose = onChosen((file) => this.#take(file));

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "save-file": () => this.#save(),
    "save-csv": () => this.#saveCsv(),
    "open-file": () => this.#choose(),
  };

  /**
   * @param {import("./open.mjs").OpenBudget} open
   * @param {import("../../engine/engine.mjs").Engine} engine
   * @param {import("./tables.mjs").Tables} tables
   * @param {FlightLog} logs
   */
  constructor(open, engine, tables, logs) {
    this.#tables = tables;
    this.#logs = logs;
    this.#open = open;
    this.#engine = engine;
    onDrop((file, place) => this.#take(file, FlightLog.isPlace(place)));
  }

  /** Save the text of a budget; needs no sums, so that work can be taken out of a page whose sums failed. */
  #save() {
    const budget = this.#open.place.isOpen ? this.#open.current() : budgets.load(chosen());
    if (budget) download(`${JSON.stringify({ format: 1, ...budget }, null, 1)}\n`, `${fileName(budget)}.json`);
  }

  async #saveCsv() {
    const budget = this.#open.current();
    const { text } = await this.#engine.ask("gear_csv", { document: budget });
    download(text, `${fileName(budget)}-gear.csv`, "text/csv");
  }

  /** Open a file once those before it are opened. @param {File} file @param {boolean} [log] whether it is a log */
  #take(file, log = LOG.test(file.name)) {
    const isLog = log || LOG.test(file.name);
    const opened = () => (isLog ? this.#logs.take(file) : this.#openFile(file));
    this.#opened = this.#opened.then(opened).catch(fail);
  }

  /** Open a file, a budget or parts for the gear, which can be undone. @param {File} file */
  async #openFile(file) {
    const open = this.#open;
    if (!open.place.isOpen) return;
    const read = WORKBOOK.test(file.name) ? null : await this.#readFile(file);
    if (!read?.plain) return this.#tables.take(file); // a list that the page did not write itself
    const { before, document, told, warned } = read;
    if (told) {
      const without = () => ({ ...open.current(), gear: before.gear, cell: before.cell });
      await open.change(document, told, without, "The gear is as it was.");
      return;
    }
    await open.begin(document);
    if (warned) trouble.tell(warned);
  }

  /**
   * Read a file of text; what is wrong with a list is told where lists are shown.
   * @param {File} file
   * @returns {Promise<Read | null>} null for a list that cannot be read like that
   */
  async #readFile(file) {
    try {
      return await this.#read(await file.slice(0, MOST).text());
    } catch (error) {
      if (LIST.test(file.name) && error instanceof EngineError && error.code !== "stopped") return null;
      throw error;
    }
  }

  /**
   * Read what a file adds to the budget in the form; once more where something was typed while it was read.
   * @param {string} text @returns {Promise<Read>}
   */
  async #read(text) {
    const before = this.#open.current();
    const read = await this.#engine.ask("open_any", { text, document: before }).catch((error) => {
      throw error.code === "stopped" ? new Error(STOPPED) : error;
    });
    const same = JSON.stringify(this.#open.current()) === JSON.stringify(before);
    return same ? { before, ...read } : this.#read(text);
  }
}
