/** What was typed in units of the other system, in those of the budget: worked out in Python, with a way back. */
import { showDone } from "../../page/answer.mjs";
import { focus } from "../../page/focus.mjs";

export class Conversion {
  #open;
  #engine;

  /** @type {import("../../page/events.mjs").Doers} */
  doers = { convert: () => this.#convert() };

  /** @param {import("./open.mjs").OpenBudget} open @param {import("../../engine/engine.mjs").Engine} engine */
  constructor(open, engine) {
    this.#open = open;
    this.#engine = engine;
  }

  async #convert() {
    const before = this.#open.current();
    const { document, count, told } = await this.#engine.ask("convert", { document: before });
    if (count === 0) return showDone(told);
    if (await this.#open.change(document, told, () => before, "The entries are as you typed them.")) focus("convert");
  }
}
