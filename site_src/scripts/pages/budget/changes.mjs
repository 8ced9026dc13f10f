/** What would make the budget fit: worked out once typing has paused, each change one press, with a way back. */
import { by } from "../../page/dom.mjs";
import { focus } from "../../page/focus.mjs";
import { morph } from "../../page/morph.mjs";
import * as boxes from "../../page/store/box.mjs";
import { fail } from "./answers.mjs";

const PAUSE = 800; // ms after the last answer: it takes some tens of assessments

export class Changes {
  #open;
  #engine;
  #timer = 0;
  #of = ""; // the text of the document that the list is of
  /** @type {{edits: unknown[], sentence: string}[]} */
  #list = [];

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "change-take": ({ dataset }) => this.#take(Number(dataset.index)),
  };

  /** @param {import("./open.mjs").OpenBudget} open @param {import("./answers.mjs").Answers} answers */
  constructor(open, answers) {
    this.#open = open;
    this.#engine = answers.engine;
    answers.onAnswer(({ wanting }) => this.#answered(wanting));
  }

  /** @param {boolean} wanting whether something keeps it from fitting */
  #answered(wanting) {
    clearTimeout(this.#timer);
    const place = by("changes");
    if (wanting && !place.hidden && this.#of === this.#text()) return;
    place.hidden = true; // what stands there is of another budget
    if (wanting) this.#timer = window.setTimeout(() => this.#ask().catch(fail), PAUSE);
  }

  /** @returns {string} */
  #text() {
    return JSON.stringify(this.#open.current());
  }

  async #ask() {
    const asked = this.#text();
    const box = boxes.load();
    const result = await this.#engine.latest("changes", { document: JSON.parse(asked), ...(box ? { box } : {}) });
    if (result === null || asked !== this.#text()) return;
    this.#of = asked;
    this.#list = result.list;
    morph(by("changes"), result.html);
    by("changes").hidden = result.html === "";
  }

  /** @param {number} index */
  async #take(index) {
    const change = this.#list[index];
    const before = this.#open.current();
    if (!change) return;
    const { document } = await this.#engine.ask("change_take", { document: before, edits: change.edits });
    const done = await this.#open.change(document, `Done: ${change.sentence}`, () => before, "It is as it was.");
    if (done) focus("answer");
  }
}
