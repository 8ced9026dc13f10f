/**
 * The dialog for parts out of a table: a pasted block or a file. Python says at each change what would come in and what
 * would not; nothing is taken before the visitor has seen that and agreed.
 */
import { announcer } from "./announce.mjs";
import * as dialogs from "./dialogs.mjs";
import { by, change } from "./dom.mjs";
import { morph } from "./morph.mjs";

/**
 * @typedef {{text: string} | {data: string}} Source
 * @typedef {{html: string, adds: number, sure: boolean, problem: string}} Preview
 * @typedef {{document: import("./document.mjs").Budget, parts?: any[], told: string}} Taken
 * @typedef {object} Target what takes the parts
 * @property {string} [asks] what Python's answers for it are called, if not by the gear's names
 * @property {() => import("./document.mjs").Budget} current
 * @property {(taken: Taken, before: import("./document.mjs").Budget) => Promise<unknown>} take
 */

const MOST = 5_100_000; // bytes; Python refuses more than it reads, and says so
const KINDS = "CSV, ODS or XLSX";
const NUMBERED = /^(field|unit)-(\d+)$/;

/** @param {string} text @returns {boolean} whether it is a block of cells, and not a word for one field */
export const isBlock = (text) => /[\n\t;]/.test(text.trim());

/** @param {Blob} file @returns {Promise<string>} its bytes in base64 */
export function base64(file) {
  const reader = new FileReader();
  return new Promise((resolve, reject) => {
    reader.addEventListener("load", () => resolve(String(reader.result).replace(/^[^,]*,?/, "")));
    reader.addEventListener("error", () => reject(new Error("The file cannot be read.")));
    reader.readAsDataURL(file);
  });
}

export class TableDialog {
  #engine;
  #target;
  #text = by("table-text", HTMLTextAreaElement);
  #file = by("table-file", HTMLInputElement);
  #button = by("table-take", HTMLButtonElement);
  /** @type {Source | null} */
  #source = null;
  /** @type {Map<string, string>} what the visitor chose, by the name of the entry; all else is found out */
  #chosen = new Map();
  #turn = 0; // counts the previews: an older one is not shown

  /** @type {import("./events.mjs").Doers} */
  doers = {
    paste: () => this.open(),
    "table-choose": () => this.#file.click(),
    "table-take": () => this.#take(),
    "table-close": () => dialogs.close("table"),
  };

  /** @param {import("../engine/engine.mjs").Engine} engine @param {Target} target */
  constructor(engine, target) {
    this.#engine = engine;
    this.#target = target;
    const form = dialogs.formIn("table");
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("change", (event) => this.#changed(event.target));
    let pasted = false;
    this.#text.addEventListener("paste", () => {
      pasted = true;
    });
    this.#text.addEventListener("input", () => {
      this.#from({ text: this.#text.value }, "", pasted);
      pasted = false;
    });
  }

  /** Show the dialog, with a block that was pasted elsewhere. @param {string} [text] */
  open(text = "") {
    dialogs.open("table");
    this.#text.value = text;
    this.#text.focus();
    this.#from({ text }, "", true);
  }

  /** Show the dialog with a file. @param {File} file */
  async openFile(file) {
    dialogs.open("table");
    this.#text.value = "";
    const turn = ++this.#turn;
    try {
      const data = await base64(file.slice(0, MOST));
      if (turn === this.#turn) await this.#from({ data }, file.name, true);
    } catch (error) {
      this.#refuse(error);
    }
  }

  /** Take another table. @param {Source} source @param {string} name of the file @param {boolean} whole not typed */
  async #from(source, name, whole) {
    this.#source = "text" in source && source.text.trim() === "" ? null : source;
    const known = this.#chosen.get("known_by");
    this.#chosen = new Map(known ? [["known_by", known]] : []);
    change(by("table-source"), name || KINDS);
    if (whole) by("table-preview").textContent = ""; // what was folded open belonged to another table
    const shown = await this.#preview();
    if (shown && whole) this.#focusOn(shown);
  }

  /** @param {EventTarget | null} entry */
  #changed(entry) {
    if (entry === this.#file) {
      const file = this.#file.files?.[0];
      this.#file.value = "";
      if (file) this.openFile(file);
      return;
    }
    if (!(entry instanceof HTMLInputElement || entry instanceof HTMLSelectElement)) return;
    if (["sheet", "headings"].includes(entry.name)) {
      for (const name of this.#chosen.keys()) if (NUMBERED.test(name)) this.#chosen.delete(name); // of other columns
      if (entry.name === "sheet") this.#chosen.delete("headings");
    }
    this.#chosen.set(entry.name, entry.value);
    this.#preview();
  }

  /** @returns {object} what Python is to be asked with */
  #asked() {
    /** @type {{fields: Record<string, string>, units: Record<string, string>}} */
    const columns = { fields: {}, units: {} };
    for (const [name, value] of this.#chosen) {
      const [, what, at = ""] = NUMBERED.exec(name) ?? [];
      if (what) columns[what === "field" ? "fields" : "units"][at] = value;
    }
    const { sheet, ...said } = Object.fromEntries([...this.#chosen].filter(([name]) => !NUMBERED.test(name)));
    const table = { ...this.#source, ...(sheet === undefined ? {} : { sheet }) };
    return { table, assignment: { ...said, ...columns } };
  }

  /** @param {string} what @returns {string} the method of Python's door */
  #method(what) {
    return `${this.#target.asks ?? "table"}_${what}`;
  }

  /** Show what the table would come to. @returns {Promise<Preview | null>} null if another one is wanted by then */
  async #preview() {
    const turn = ++this.#turn;
    this.#button.disabled = true;
    if (!this.#source) {
      this.#show({ html: "", adds: 0, sure: false, problem: "" });
      return null;
    }
    try {
      /** @type {Preview | null} */
      const shown = await this.#engine.latest(this.#method("preview"), {
        ...this.#asked(),
        document: this.#target.current(),
      });
      if (!shown || turn !== this.#turn) return null;
      this.#show(shown);
      return shown;
    } catch (error) {
      if (turn === this.#turn) this.#refuse(error);
      return null;
    }
  }

  /** @param {Preview} shown */
  #show({ html, adds, problem }) {
    change(by("table-problem"), "");
    morph(by("table-preview"), html, { keepTyped: true });
    change(this.#button, adds > 0 ? `Add ${adds} ${adds === 1 ? "part" : "parts"}` : "Add parts");
    this.#button.disabled = adds === 0;
    const sum = by("table-preview").querySelector(".table-sum")?.textContent ?? "";
    announcer.announce(by("table-said"), problem || sum);
  }

  /** @param {unknown} error */
  #refuse(error) {
    this.#show({ html: "", adds: 0, sure: false, problem: "" });
    change(by("table-problem"), error instanceof Error ? error.message : String(error));
  }

  /** Where all columns are known nothing is left but to agree. @param {Preview} shown */
  #focusOn({ sure }) {
    const unsure = by("table-preview").querySelector(".unsure select");
    if (sure) this.#button.focus();
    else if (unsure instanceof HTMLElement) unsure.focus();
  }

  async #take() {
    const before = this.#target.current();
    this.#button.disabled = true;
    try {
      const taken = await this.#engine.ask(this.#method("take"), { ...this.#asked(), document: before });
      if (!dialogs.isOpen("table")) return; // cancelled meanwhile
      await this.#target.take(taken, before);
      dialogs.close("table"); // the focus goes back to where it came from
    } catch (error) {
      this.#refuse(error);
    }
  }
}
