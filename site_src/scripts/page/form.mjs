/** The form of the budget page: what stands in it is a document. */
import { writer } from "./answer.mjs";
import { edited } from "./document.mjs";
import { by } from "./dom.mjs";
import { morph } from "./morph.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */

export class BudgetForm {
  #element = by("form", HTMLFormElement);
  /** @type {Budget} the document as it was put into the form */
  #shown = JSON.parse(this.#element.dataset.document ?? "{}");

  constructor() {
    this.#element.addEventListener("submit", (event) => event.preventDefault());
  }

  /** Let the visitor type: the page has been made with a form that takes nothing. */
  enable() {
    by("form-gate", HTMLFieldSetElement).disabled = false;
  }

  /** @returns {string} the example that the page was made with */
  get example() {
    return this.#element.dataset.first ?? "sedge-wren.json";
  }

  /** @returns {Budget} the document as it was put into the form */
  get shown() {
    return this.#shown;
  }

  /** @returns {Budget} what stands in the form */
  current() {
    return edited(this.#element, this.#shown);
  }

  /** @returns {boolean} whether it takes nothing */
  get inert() {
    return this.#element.inert;
  }

  set inert(inert) {
    this.#element.inert = inert;
  }

  /** Show another document. @param {Budget} document @param {string} html */
  show(document, html) {
    morph(by("form-gate"), html);
    writer.forget();
    for (const field of this.#element.elements) reset(field);
    this.#shown = document;
  }

  /**
   * Tell of what is typed or chosen. Another system of units is told by itself, for it changes every field's unit: the
   * form is then written anew, and each bare number keeps its unit.
   * @param {(field: EventTarget | null) => void} typed
   * @param {(before: string, back: () => void) => void} otherUnits the system before, and what chooses that again
   */
  onInput(typed, otherUnits) {
    this.#element.addEventListener("input", ({ target }) => {
      if (this.inert) return;
      if (!(target instanceof HTMLSelectElement && target.name === "units")) return typed(target);
      const before = [...target.options].find((option) => option.defaultSelected)?.value ?? "";
      otherUnits(before, () => {
        target.value = before;
      });
    });
  }
}

/** Morphing changes attributes; what a field shows once it has been typed in is its property. @param {Element} field */
function reset(field) {
  if (field instanceof HTMLInputElement && field.type === "checkbox") field.checked = field.defaultChecked;
  else if (field instanceof HTMLInputElement) field.value = field.defaultValue;
  else if (field instanceof HTMLSelectElement) {
    const chosen = [...field.options].findIndex((option) => option.defaultSelected);
    field.selectedIndex = Math.max(0, chosen);
  }
}
