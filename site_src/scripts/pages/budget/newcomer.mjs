/** The newcomer's start: a dialog whose form becomes a budget. */
import * as dialogs from "../../page/dialogs.mjs";
import { by } from "../../page/dom.mjs";
import { focus } from "../../page/focus.mjs";
import { budgets } from "../../page/store/budgets.mjs";
import * as first from "./firstform.mjs";
import { isAnythingToOpen } from "./opening.mjs";

export class Newcomer {
  #open;
  #answers;
  #form = dialogs.formIn("first");

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    first: () => dialogs.open("first"),
    "first-example": () => {
      by("first-step").hidden = true;
      focus("answer");
    },
    "first-close": () => dialogs.close("first"),
    "first-go": () => this.#begin(),
  };

  /** @param {import("./open.mjs").OpenBudget} open @param {import("./answers.mjs").Answers} answers */
  constructor(open, answers) {
    this.#open = open;
    this.#answers = answers;
    first.watch(this.#form);
    by("first-step").hidden = isAnythingToOpen() || budgets.list().length > 0;
  }

  /** Begin with what stands in the form; an airframe that cannot be read keeps it open. */
  async #begin() {
    const budget = first.budgetOf(this.#form);
    first.showWaiting(this.#answers.any ? "" : "The sums are still starting; your answer follows.");
    try {
      const { problems } = await this.#answers.engine.ask("answer", { document: budget });
      const problem = problems["model.airframe"] ?? "";
      first.showProblem(problem);
      if (problem || !dialogs.isOpen("first")) return;
      dialogs.close("first");
      await this.#open.begin(budget);
    } finally {
      first.showWaiting("");
    }
    focus("answer");
  }
}
