/** Parts out of a table into the gear: by the button, by a block pasted into a line, by a file. */
import { by } from "../../page/dom.mjs";
import { isBlock, TableDialog } from "../../page/table.mjs";

/** @typedef {import("../../page/document.mjs").Budget} Budget */

const TOUCHED = ["gear", "cell", "surface", "supply"]; // by parts that come in

/** @param {Budget} now @param {Budget} before @returns {Budget} as it is now, with the gear that it had */
function without(now, before) {
  const rest = Object.entries(now).filter(([key]) => !TOUCHED.includes(key));
  const old = Object.entries(before).filter(([key]) => TOUCHED.includes(key));
  return Object.fromEntries([...rest, ...old]);
}

export class Tables {
  #dialog;

  /** @type {import("../../page/events.mjs").Doers} */
  doers;

  /** @param {import("./open.mjs").OpenBudget} open @param {import("../../engine/engine.mjs").Engine} engine */
  constructor(open, engine) {
    this.#dialog = new TableDialog(engine, {
      current: () => open.current(),
      take: ({ document, told }, before) =>
        open.change(document, told, () => without(open.current(), before), "The gear is as it was."),
    });
    this.doers = this.#dialog.doers;
    by("form").addEventListener("paste", (event) => this.#pasted(event));
  }

  /** @param {File} file */
  take(file) {
    return this.#dialog.openFile(file);
  }

  /** @param {ClipboardEvent} event */
  #pasted(event) {
    const text = event.clipboardData?.getData("text/plain") ?? "";
    if (!(event.target instanceof Element && event.target.closest(".gear .line")) || !isBlock(text)) return;
    event.preventDefault();
    this.#dialog.open(text);
  }
}
