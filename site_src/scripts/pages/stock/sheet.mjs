/** A sheet of balsa on the scale: Python tells its density at each change; it is kept among the visitor's parts. */
import { announcer } from "../../page/announce.mjs";
import { collect, isBudget } from "../../page/document.mjs";
import { by } from "../../page/dom.mjs";
import { morph } from "../../page/morph.mjs";
import { tell } from "../../page/pageengine.mjs";
import * as boxes from "../../page/store/box.mjs";
import { budgets } from "../../page/store/budgets.mjs";

/** @returns {import("../../page/document.mjs").Budget} the budget worked on last, whose parts may be cut from it */
function budget() {
  const found = budgets.load(budgets.current() ?? "");
  return isBudget(found) ? found : {};
}

export class SheetForm {
  #form = by("sheet-form", HTMLFormElement);
  #keep = by("sheet-keep", HTMLButtonElement);
  #engine;
  /** @type {import("../../page/document.mjs").Budget | null} the sheet as a part of the box, once it has a density */
  #part = null;

  /** @type {import("../../page/events.mjs").Doers} */
  doers = { "sheet-keep": () => this.#part && tell(boxes.put(this.#part)) };

  /** @param {import("../../engine/engine.mjs").Engine} engine */
  constructor(engine) {
    this.#engine = engine;
    this.#form.addEventListener("input", () => this.refresh());
    this.#form.addEventListener("submit", (event) => event.preventDefault());
  }

  /** @returns {Promise<void>} */
  async refresh() {
    const fields = collect(this.#form).box ?? {};
    const result = await this.#engine.ask("sheet_weigh", { fields, document: budget() });
    if (JSON.stringify(collect(this.#form).box ?? {}) !== JSON.stringify(fields)) return; // typed on meanwhile
    this.#part = result.part;
    this.#keep.disabled = result.part === null || !fields.name;
    morph(by("sheet-fields"), result.html, { keepTyped: true });
    by("sheet-hint").hidden = !this.#keep.disabled;
    announcer.announce(by("sheet-said"), by("sheet-fields").querySelector(".stock-answer")?.textContent?.trim() ?? "");
  }
}
