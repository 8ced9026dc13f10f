/** The parts of the airframe: begun from a model, out of a table, and what a choice saves on each of them. */
import { nameOf } from "../../page/document.mjs";
import { by } from "../../page/dom.mjs";
import { chooseFile, download } from "../../page/files.mjs";
import { focus } from "../../page/focus.mjs";
import { morph } from "../../page/morph.mjs";
import { base64 } from "../../page/table.mjs";
import { fail } from "./answers.mjs";

/** @typedef {import("../../page/document.mjs").Budget} Budget */

const MOST = 5_100_000; // bytes; Python refuses more than it reads, and says so

export class AirframeParts {
  #open;
  #engine;
  /** @type {{edits: unknown[], sentence: string}[]} */
  #list = [];

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "airframe-start": () => this.#start(),
    "airframe-csv": () => this.#saveCsv(),
    "airframe-csv-open": () => this.#choose(),
    savings: () => this.#ask(),
    "saving-take": ({ dataset }) => this.#take(Number(dataset.index)),
  };

  /** @param {import("./open.mjs").OpenBudget} open @param {import("./answers.mjs").Answers} answers */
  constructor(open, answers) {
    this.#open = open;
    this.#engine = answers.engine;
    answers.onAnswer(() => {
      by("savings").hidden = true; // what stands there is of the budget before
    });
  }

  /** @param {Budget} document @param {string} told @param {Budget} before */
  #change(document, told, before) {
    return this.#open.change(document, told, () => before, "The airframe is as it was.");
  }

  async #start() {
    const before = this.#open.current();
    const { value } = by("airframe-model", HTMLSelectElement);
    const { document } = await this.#engine.ask("airframe_start", { document: before, model: value });
    if (await this.#change(document, "The parts of an invented model are in.", before)) focus("part-airframe");
  }

  async #saveCsv() {
    const budget = this.#open.current();
    const { text } = await this.#engine.ask("airframe_csv", { document: budget });
    download(text, `${nameOf(budget).replace(/[^\p{L}\p{N}]+/gu, "-") || "budget"}-airframe.csv`, "text/csv");
  }

  /** Ask for a file of parts; the page's own file entry takes budgets and gear. */
  #choose() {
    chooseFile(".csv,.tsv,.txt,.ods,.xlsx,text/csv", (file) => this.#addTable(file).catch(fail));
  }

  /** @param {File} file */
  async #addTable(file) {
    const before = this.#open.current();
    const data = await base64(file.slice(0, MOST));
    const { document, told } = await this.#engine.ask("airframe_open", { data, document: before });
    await this.#change(document, told, before);
  }

  async #ask() {
    const asked = this.#open.current();
    const result = await this.#engine.latest("savings", { document: asked });
    if (result === null || JSON.stringify(asked) !== JSON.stringify(this.#open.current())) return;
    this.#list = result.list;
    morph(by("savings"), result.html);
    by("savings").hidden = false;
    focus("savings");
  }

  /** @param {number} index */
  async #take(index) {
    const saving = this.#list[index];
    const before = this.#open.current();
    if (!saving) return;
    const { document } = await this.#engine.ask("change_take", { document: before, edits: saving.edits });
    if (await this.#change(document, `Done: ${saving.sentence}`, before)) focus("answer");
  }
}
