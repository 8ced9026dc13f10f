/** The dialog that works a mass out from dimensions, and puts it into a gear row. */
import * as dialogs from "../../page/dialogs.mjs";
import { by, fieldText } from "../../page/dom.mjs";
import { StockForm } from "../../page/stockform.mjs";

/**
 * A mass from dimensions is a catalogue figure, since nothing was weighed.
 * @param {string} row
 * @param {string} mass
 * @param {string} name
 */
function intoRow(row, mass, name) {
  const called = by(`gear-${row}-name`, HTMLInputElement);
  by(`gear-${row}-mass`, HTMLInputElement).value = mass;
  by(`gear-${row}-known_by`, HTMLSelectElement).value = "maker";
  if (called.value === "") called.value = name;
  by(`gear-${row}-mass`).focus();
}

export class StockDialog {
  #open;
  #form;
  #row = "0";

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    stock: ({ dataset }) => this.#weigh(dataset.row ?? "0"),
    "stock-use": () => this.#use(),
    "stock-close": () => dialogs.close("stock"),
  };

  /** @param {import("./open.mjs").OpenBudget} open @param {import("../../engine/engine.mjs").Engine} engine */
  constructor(open, engine) {
    this.#open = open;
    this.#form = new StockForm(dialogs.formIn("stock"), engine, () => fieldText("units"));
  }

  /** @param {string} row */
  #weigh(row) {
    this.#row = row;
    dialogs.open("stock");
    return this.#form.refresh();
  }

  #use() {
    const { mass, name } = this.#form.weighed;
    if (!mass) return;
    intoRow(this.#row, mass, name);
    dialogs.close("stock");
    this.#open.changed();
  }
}
