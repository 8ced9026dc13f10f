/** The page of the box: a table of parts, one of them in the form; every change is kept at once. No sums here. */
import * as choose from "../page/choose.mjs";
import { edited, isBudget, nameOf } from "../page/document.mjs";
import { by, fieldText } from "../page/dom.mjs";
import { askBeforeLeaving, onDo, onReturn } from "../page/events.mjs";
import { download, LIST, onChosen, onDrop, WORKBOOK } from "../page/files.mjs";
import { morph } from "../page/morph.mjs";
import { answered, fail, offer, startEngine, tell } from "../page/pageengine.mjs";
import * as boxes from "../page/store/box.mjs";
import { isBlock, TableDialog } from "../page/table.mjs";
import { toldOf } from "./box/told.mjs";

/**
 * @typedef {import("../page/document.mjs").Budget} Part
 * @typedef {import("./box/told.mjs").Read} Read
 */

const FILE_MOST = 16_500_000; // bytes; Python refuses more than it reads, whatever the letters
const NONE = -1; // no part is in the form
const NOT_KEPT = "This browser does not keep the box (its store is full or closed): save it as a file.";
const INVENTED = "With generic parts whose figures are invented: put your own in their place.";

class BoxPage {
  #engine = startEngine();
  #form = by("part-form", HTMLFormElement);
  #box = boxes.load() ?? boxes.empty();
  #editing = NONE; // the part in the form
  /** @type {Part} the part as the form last showed it */
  #shown = {};
  #lists = new TableDialog(this.#engine, {
    asks: "box_table",
    current: () => this.#box,
    take: async ({ parts = [], told }) => this.#put(parts, told),
  });

  start() {
    const openFile = (/** @type {File} */ file) => this.#open(file).catch(fail);
    onDo({ ...this.#doers(), ...this.#lists.doers, open: onChosen(openFile) }, fail);
    onDrop(openFile);
    document.addEventListener("paste", (event) => this.#pasted(event));
    this.#form.addEventListener("input", () => this.#typed().catch(fail));
    this.#form.addEventListener("submit", (event) => event.preventDefault());
    by("only").addEventListener("change", () => this.#table());
    boxes.onChange(() => this.#follow());
    onReturn(() => this.#follow());
    askBeforeLeaving();
    by("box-tools").hidden = false;
    by("table").replaceChildren(); // the starter box of the page without a program is nobody's own
    this.#table();
  }

  /** @returns {any[]} */
  get #parts() {
    return boxes.partsOf(this.#box);
  }

  /** @returns {import("../page/events.mjs").Doers} */
  #doers() {
    /** @param {HTMLElement} button @returns {number} the part that it belongs to */
    const indexOf = ({ dataset }) => Number(dataset.index);
    return {
      add: () => this.#insert({ kind: fieldText("only") || "servo", known_by: "weighed" }),
      edit: (button) => this.#edit(indexOf(button)),
      twin: (button) => this.#twin(indexOf(button)),
      drop: (button) => this.#drop(indexOf(button)),
      close: () => this.#close(),
      starter: () => this.#addStarter(),
      clear: () => {
        const before = this.#parts;
        this.#changeWithUndo([], "The box is empty.", () => [...before, ...this.#parts]);
      },
      json: () => download(`${JSON.stringify(this.#box, null, 1)}\n`, "box.json"),
      csv: async () => {
        const { text } = await this.#engine.ask("box_csv", { box: this.#box });
        download(text, "box.csv", "text/csv");
      },
    };
  }

  /** Keep the box, and show it. @param {Part} next */
  #change(next) {
    this.#box = next;
    if (!boxes.save(next)) tell(NOT_KEPT);
    this.#table();
  }

  /**
   * Change the parts, with a way back that leaves alone what was changed since.
   * @param {any[]} next
   * @param {string} text
   * @param {() => any[]} back the parts without this change
   */
  #changeWithUndo(next, text, back) {
    this.#close();
    this.#change({ ...this.#box, parts: next });
    offer(text, "Undo", () => {
      this.#close();
      this.#change({ ...this.#box, parts: back() });
      tell("Undone.");
    });
  }

  /** Show the table. */
  #table() {
    for (const id of ["csv", "json", "clear"]) by(id, HTMLButtonElement).disabled = this.#parts.length === 0;
    this.#engine.latest("box", { box: this.#box, kind: fieldText("only") }).then((result) => {
      if (!result) return;
      morph(by("table"), result.html);
      by("count").textContent = result.count === 1 ? "1 part" : `${result.count} parts`;
      answered();
    }, fail);
  }

  /** Show a part in the form. @param {number} index */
  async #edit(index) {
    const part = this.#parts[index];
    this.#editing = index;
    this.#shown = isBudget(part) ? part : {};
    const { html } = await this.#engine.ask("box_part", { part: this.#shown, units: this.#box.units });
    by("part-fields").innerHTML = html;
    by("part").hidden = false;
    by("part-title").textContent = nameOf(this.#shown) || "A part";
    by("part").scrollIntoView({ block: "nearest" });
    by("box-name").focus();
  }

  /** What was typed goes into the box; the form follows what its kind asks for. */
  async #typed() {
    const index = this.#editing;
    const part = edited(this.#form, { box: this.#shown }).box ?? {};
    this.#change({ ...this.#box, parts: this.#parts.with(index, part) });
    const result = await this.#engine.latest("box_part", { part, units: this.#box.units });
    if (!result || index !== this.#editing) return;
    morph(by("part-fields"), result.html, { keepTyped: true });
    this.#shown = part;
    by("part-title").textContent = nameOf(part) || "A part";
  }

  #close() {
    this.#editing = NONE;
    by("part").hidden = true;
  }

  /** @param {Part} part @param {number} [at] */
  #insert(part, at = this.#parts.length) {
    this.#change({ ...this.#box, parts: this.#parts.toSpliced(at, 0, part) });
    return this.#edit(at);
  }

  /** @param {number} index */
  #twin(index) {
    const part = this.#parts[index];
    return this.#insert({ ...part, name: `${nameOf(part)} copy`.trim() }, index + 1);
  }

  /** @param {number} index */
  #drop(index) {
    const part = this.#parts[index];
    const text = `“${nameOf(part ?? {}) || "The part"}” is out of the box.`;
    this.#changeWithUndo(this.#parts.toSpliced(index, 1), text, () => this.#parts.toSpliced(index, 0, part));
  }

  async #addStarter() {
    const { parts = [], units } = await choose.starterBox();
    this.#add({ parts, units, ignored: [], problems: [] });
    if (!this.#box.about) this.#change({ ...this.#box, about: INVENTED });
  }

  /** @param {File} file */
  async #open(file) {
    if (WORKBOOK.test(file.name)) return this.#lists.openFile(file);
    const text = await file.slice(0, FILE_MOST).text();
    const units = this.#parts.length ? (this.#box.units ?? "metric") : undefined;
    const read = await this.#engine.ask("box_open", { text, units }).catch((error) => {
      if (!LIST.test(file.name) || error.code === "stopped") throw error;
      return null; // what is wrong with a list is told where lists are shown
    });
    if (read?.plain) this.#add(read);
    else await this.#lists.openFile(file);
  }

  /** A block of cells that is pasted beside the fields is a list. @param {ClipboardEvent} event */
  #pasted(event) {
    const text = event.clipboardData?.getData("text/plain") ?? "";
    const inField = event.target instanceof Element && event.target.closest("input, select, textarea, dialog");
    if (inField || !isBlock(text)) return;
    event.preventDefault();
    this.#lists.open(text);
  }

  /** Add the parts of a file; what is there already is not doubled. @param {Read} read */
  #add(read) {
    const known = new Set(this.#parts.map((part) => JSON.stringify(part)));
    const fresh = read.parts.filter((part) => !known.has(JSON.stringify(part)));
    if (!this.#parts.length) this.#box = { ...this.#box, units: read.units };
    this.#put(fresh, toldOf(read, fresh.length));
  }

  /** @param {any[]} fresh parts that come in @param {string} told */
  #put(fresh, told) {
    this.#changeWithUndo([...this.#parts, ...fresh], told, () => this.#parts.filter((part) => !fresh.includes(part)));
  }

  /** Another tab changed the box; show its state. */
  #follow() {
    const there = boxes.load() ?? boxes.empty();
    if (JSON.stringify(there) === JSON.stringify(this.#box)) return;
    this.#box = there;
    this.#close();
    this.#table();
  }
}

new BoxPage().start();
