/** The visitor's budgets: new ones, copies, one deleted, one chosen, and what another tab does with them. */
import { showDone } from "../../page/answer.mjs";
import { nameOf } from "../../page/document.mjs";
import { isFailed } from "../../page/engineline.mjs";
import { onReturn } from "../../page/events.mjs";
import { download } from "../../page/files.mjs";
import { budgets } from "../../page/store/budgets.mjs";
import * as drafts from "../../page/store/shared.mjs";
import { onChoice, showDamaged, showMine } from "../../page/toolbar.mjs";
import { fail } from "./answers.mjs";
import { withCopyName, withOwnName } from "./open.mjs";

const BLANK = { format: 1, name: "New budget", gear: [{ kind: "receiver" }, { kind: "servo" }] };

export class Mine {
  #open;
  #opening;
  #answers;

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    keep: () => this.#keepCopy(),
    leave: () => this.#opening.own(),
    new: () => this.#open.begin(BLANK),
    copy: () => this.#open.begin(withCopyName(this.#open.current())),
    delete: () => this.#delete(),
    "damaged-save": () => {
      for (const { id, text } of budgets.damaged()) download(text, `unreadable-${id}.txt`);
    },
    "damaged-remove": () => {
      for (const { id } of budgets.damaged()) budgets.remove(id);
      showDamaged(0);
    },
  };

  /**
   * @param {import("./open.mjs").OpenBudget} open
   * @param {import("./opening.mjs").Opening} opening
   * @param {import("./answers.mjs").Answers} answers
   */
  constructor(open, opening, answers) {
    this.#open = open;
    this.#opening = opening;
    this.#answers = answers;
    onChoice("mine", (id) => this.#choose(id));
    onChoice("examples", (file) => opening.example(file).catch(fail));
    budgets.onChange((id) => this.#follow(id).catch(fail));
    onReturn(() => this.#follow(open.place.id).catch(fail));
    showMine(budgets.list(), budgets.current() ?? "");
    showDamaged(budgets.damaged().length);
  }

  /** List the budgets, with the one that is open chosen. */
  #show() {
    showMine(budgets.list(), this.#open.place.id);
  }

  /** @param {string} id */
  #choose(id) {
    const budget = budgets.load(id);
    if (!budget || isFailed()) return; // then it can be saved as a file
    this.#open.enter({ mode: "own", id }, budget).catch((error) => {
      this.#show();
      fail(error);
    });
  }

  /** Keep a copy of a budget that came by link. */
  async #keepCopy() {
    const { fragment } = this.#open.place;
    await this.#open.begin(withOwnName(this.#open.current()), "link");
    drafts.dropDraft(fragment);
  }

  /** Delete the budget that is shown, with a way back. */
  async #delete() {
    const { place, undo } = this.#open;
    if (place.mode !== "own") return;
    const { id } = place;
    const budget = this.#open.current();
    const about = budgets.about(id);
    await this.#showOther(id);
    if (place.id === id) return; // the other one could not be shown
    budgets.remove(id);
    this.#show();
    const name = nameOf(budget) || "without a name";
    undo.addAnywhere(`“${name}” is deleted.`, async () => {
      const again = budgets.load(id) ? budgets.newId() : id; // another tab may have gone on with it
      budgets.save(again, budget, about);
      await this.#open.enter({ mode: "own", id: again }, budget);
      showDone(`“${name}” is back.`);
    });
  }

  /** Show the newest budget but one, or an example. @param {string} id */
  async #showOther(id) {
    const next = budgets.list().findLast((each) => each.id !== id)?.id;
    const other = next ? budgets.load(next) : null;
    if (next && other) await this.#open.enter({ mode: "own", id: next }, other);
    else await this.#opening.example();
  }

  /** Another tab changed the budgets; show its state of the one that is open here. @param {string} id */
  async #follow(id) {
    const { place } = this.#open;
    if (place.mode === "own" && id === place.id && budgets.isChangedElsewhere(id)) {
      const budget = budgets.load(id);
      if (!budget) showDone("Deleted in another tab or window. Change anything here, and it is kept again.");
      else if (await this.#answers.show(budget)) {
        showDone("Changed in another tab or window; this is the newest state.");
      }
    }
    this.#show();
  }
}
