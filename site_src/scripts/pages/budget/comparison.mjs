/** Holding the budget as it is, to compare with what it becomes, and going back to it. */
import { focus } from "../../page/focus.mjs";
import { budgets } from "../../page/store/budgets.mjs";
import { withOwnName } from "./open.mjs";

export class Comparison {
  #open;
  #answers;
  #held;

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    hold: () => this.#hold(),
    "let-go": () => this.#letGo(),
    "held-back": () => this.#goBack(),
  };

  /**
   * @param {import("./open.mjs").OpenBudget} open
   * @param {import("./answers.mjs").Answers} answers
   * @param {import("../../page/held.mjs").Held} held
   */
  constructor(open, answers, held) {
    this.#open = open;
    this.#answers = answers;
    this.#held = held;
  }

  async #hold() {
    const { place } = this.#open;
    if (!place.isOpen) return;
    this.#held.hold(this.#open.current(), place.where);
    await this.#answers.refresh();
    focus("held-title");
  }

  async #letGo() {
    this.#held.letGo();
    await this.#answers.refresh();
    focus("hold");
  }

  /** Put the held budget back where it was taken from, with a way back; into a new one if another is open by now. */
  async #goBack() {
    const open = this.#open;
    const { budget, place, wasAsked } = this.#held;
    if (!budget || !open.place.isOpen) return;
    if (!wasAsked) return open.enter({ mode: "own", id: place }, budgets.load(place) ?? budget);
    if (!this.#held.isFrom(open.place.where)) return open.begin(withOwnName(budget));
    const before = open.current();
    const done = await open.change(budget, "The budget is as it was before.", () => before, "Your changes are back.");
    if (done) focus("held-title");
  }
}
