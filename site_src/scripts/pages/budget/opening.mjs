/** What the page opens by itself: the budget of its address, the one last worked on, or an example. */
import { EngineError } from "../../engine/engine.mjs";
import * as address from "../../page/address.mjs";
import { showSharedTold, trouble } from "../../page/answer.mjs";
import * as choose from "../../page/choose.mjs";
import { budgets } from "../../page/store/budgets.mjs";
import * as drafts from "../../page/store/shared.mjs";
import { fail } from "./answers.mjs";

/** @typedef {import("../../page/document.mjs").Budget} Budget */

const NOT_A_LINK =
  "This address ends like a link to a budget, but it is none: it was cut or changed on its way. Ask for it again, as " +
  "a file if need be.";

/** @returns {boolean} whether there is more to open than the example that the page was made with */
export function isAnythingToOpen() {
  return address.linkIn(location.hash) !== null || budgets.current() !== null;
}

export class Opening {
  #open;
  #engine;
  #example;

  /**
   * @param {import("./open.mjs").OpenBudget} open
   * @param {import("../../engine/engine.mjs").Engine} engine
   * @param {string} example the first one
   */
  constructor(open, engine, example) {
    this.#open = open;
    this.#engine = engine;
    this.#example = example;
    addEventListener("hashchange", () => this.#addressChanged());
  }

  /** Open what the page is to begin with. */
  async first() {
    const spoiled = address.isSpoiled(location.hash);
    if (!(await this.#address())) await this.own();
    if (spoiled) this.refuse();
  }

  /** Open the budget last worked on, or the example on the page. @param {boolean} [keepAddress] */
  async own(keepAddress = false) {
    const fragment = location.hash;
    const id = budgets.current();
    const budget = id ? budgets.load(id) : null;
    if (id && budget) await this.#open.enter({ mode: "own", id }, budget);
    else await this.example();
    if (keepAddress) address.write(fragment);
  }

  /** @param {string} [file] */
  async example(file = this.#example) {
    await this.#open.enter({ mode: "example" }, await choose.load(`demo:${file}`));
  }

  /** Say that the address holds no link, and let it be that of what is shown. */
  refuse() {
    address.write(this.#open.place.rightFragment);
    trouble.tell(NOT_A_LINK);
  }

  /** Open what the address holds: a shared budget. @returns {Promise<boolean>} whether it was one */
  async #address() {
    const asked = address.linkIn(location.hash);
    if (asked === null) return false;
    const fragment = drafts.draftAt(asked);
    const linked = await this.#linked(fragment);
    if (!linked) return true;
    await this.#open.enter({ mode: "shared", fragment }, linked.document);
    showSharedTold(linked.told);
    address.write(this.#open.place.rightFragment); // as it is meant, whatever became of its signs
    return true;
  }

  /**
   * The budget of a link, and what is to be said of it; null once the visitor was told that it cannot be opened.
   * @param {string} fragment @returns {Promise<{document: Budget, told: string} | null>}
   */
  async #linked(fragment) {
    const document = drafts.draft(fragment);
    if (document) return { document, told: "" };
    try {
      return await this.#engine.ask("open_link", { fragment });
    } catch (error) {
      if (error instanceof EngineError && error.code === "stopped") throw error;
      // A link of a newer edition can still open once this page is loaded anew; any other is of no use.
      const newer = error instanceof EngineError && error.code === "link_format";
      if (!newer) address.write("");
      const { place } = this.#open;
      if (!place.isOpen || place.mode === "shared") await this.own(newer);
      fail(error);
      return null;
    }
  }

  #addressChanged() {
    const { hash } = location;
    const { place } = this.#open;
    if (hash === place.rightFragment) return; // the answer of a phone was closed: nothing else is to be shown
    if (address.linkIn(hash)) this.#address().catch(fail);
    else if (address.isSpoiled(hash)) this.refuse();
    else if (address.isPlace(hash))
      address.write(place.rightFragment); // only a step within the page
    else if (place.mode === "shared") this.own().catch(fail);
  }
}
