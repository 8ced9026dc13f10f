/** The stock form, on its own page and in the dialog beside a gear row: asks Python at each change. */
import { announcer } from "./announce.mjs";
import { collect } from "./document.mjs";
import { morph } from "./morph.mjs";

/** @typedef {{html: string, mass: string, name: string}} Weighed */

export class StockForm {
  /** @type {Weighed} */
  weighed = { html: "", mass: "", name: "" };
  #form;
  #engine;
  #units;

  /**
   * @param {HTMLFormElement} form
   * @param {import("../engine/engine.mjs").Engine} engine
   * @param {() => string} units the system of the budget that it is for
   */
  constructor(form, engine, units) {
    this.#form = form;
    this.#engine = engine;
    this.#units = units;
    form.addEventListener("input", () => this.refresh());
    form.addEventListener("submit", (event) => event.preventDefault());
  }

  /** Weigh what stands in the form. @returns {Promise<void>} */
  async refresh() {
    const fields = collect(this.#form).stock ?? {};
    const result = await this.#engine.ask("stock", { fields, units: this.#units() });
    if (JSON.stringify(collect(this.#form).stock ?? {}) !== JSON.stringify(fields)) return; // typed on meanwhile
    this.weighed = result;
    const place = /** @type {Element} */ (this.#form.querySelector("#stock-fields"));
    morph(place, result.html, { keepTyped: true });
    const wrong = document.activeElement?.closest("#stock-fields .field")?.querySelector(".problem")?.textContent;
    const told = [wrong, place.querySelector(".stock-answer")?.textContent].map((text) => text?.trim()).filter(Boolean);
    announcer.announce(/** @type {Element} */ (this.#form.querySelector("[role=status]")), told.join(" "));
  }
}
