/**
 * The tables of rows, of gear and others: Enter goes down a column, an empty line always waits for the next row, a line
 * is moved by dragging its number or with Alt and the arrow keys, and on a phone it opens as a sheet over the page.
 */
import { by } from "./dom.mjs";
import { emptyLine, lineOf, lines, listOf, rowOf } from "./lines.mjs";

export class RowTables {
  #move;
  /** @type {HTMLElement | null} the line that the hand holds */
  #dragged = null;

  /** @param {HTMLElement} form @param {(list: string, from: number, to: number) => void} move what moves a row */
  constructor(form, move) {
    this.#move = move;
    // Before the form is read: what is typed into the empty line makes it a part.
    form.addEventListener("input", (event) => this.#typed(event.target), true);
    form.addEventListener("keydown", (event) => this.#key(event));
    form.addEventListener("dragstart", (event) => this.#drag(event));
    form.addEventListener("dragover", (event) => {
      if (this.#target(event) >= 0) event.preventDefault();
    });
    form.addEventListener("drop", (event) => this.#drop(event));
    addEventListener("keydown", (event) => {
      if (event.key === "Escape" && this.#opened() && !document.querySelector("dialog[open]")) this.close();
    });
  }

  /** @param {HTMLElement | null} line @returns {number} its place in the list, -1 for none */
  #rowNumber(line) {
    return line && !line.classList.contains("blank") && rowOf(line) !== "cell" ? Number(rowOf(line)) : -1;
  }

  /** @param {DragEvent} event @returns {number} the place in its own list that a dragged line is over, -1 for none */
  #target({ target }) {
    const line = lineOf(target);
    return this.#dragged && line && listOf(line) === listOf(this.#dragged) ? this.#rowNumber(line) : -1;
  }

  /** @param {EventTarget | null} target */
  #typed(target) {
    const line = lineOf(target);
    if (line && target instanceof HTMLInputElement && target.type === "checkbox")
      line.classList.toggle("out", target.checked); // left out: dimmed
    if (!line?.classList.contains("blank")) return;
    line.classList.remove("blank");
    /** @type {HTMLElement} */ (line.querySelector(".no")).draggable = true;
    const known = line.querySelector("select[name$='.known_by']");
    if (known instanceof HTMLSelectElement) {
      const { value } = known;
      for (const option of known.options) option.defaultSelected = false; // nobody weighed it: that is told
      known.value = value; // taking the marks away has chosen the first one
    }
    const next = Number(rowOf(line)) + 1;
    if (next < Number(line.parentElement?.dataset.most)) line.after(emptyLine(listOf(line), next));
  }

  /** @param {KeyboardEvent} event @returns {void} */
  #key(event) {
    const line = lineOf(event.target);
    if (!line || !(event.target instanceof HTMLElement)) return;
    const cell = event.target.closest("td");
    const up = event.key === "ArrowUp";
    if (event.key === "Enter" && event.target.matches("input[type='text']") && cell) {
      event.preventDefault();
      if (this.#opened()) return this.step(line, event.shiftKey ? -1 : 1);
      const next = event.shiftKey ? line.previousElementSibling : line.nextElementSibling;
      /** @type {HTMLElement | null | undefined} */ (next?.querySelector(`td.${cell.classList[0]} input`))?.focus();
    } else if (event.altKey && (up || event.key === "ArrowDown")) {
      const from = this.#rowNumber(line);
      const to = from + (up ? -1 : 1);
      const list = listOf(line);
      if (from < 0 || to < 0 || this.#rowNumber(document.getElementById(`${list}-${to}`)) < 0) return;
      event.preventDefault();
      this.#move(list, from, to);
    }
  }

  /** @param {DragEvent} event */
  #drag(event) {
    const line = lineOf(event.target);
    this.#dragged = this.#rowNumber(line) < 0 ? null : line;
    if (!this.#dragged || !event.dataTransfer) return;
    event.dataTransfer.effectAllowed = "move";
    event.dataTransfer.setData("text/plain", "");
  }

  /** @param {DragEvent} event */
  #drop(event) {
    const held = this.#dragged;
    if (!held) return; // a file: others take it
    const [to, from] = [this.#target(event), this.#rowNumber(held)];
    this.#dragged = null;
    event.preventDefault();
    event.stopPropagation();
    if (to >= 0 && to !== from) this.#move(listOf(held), from, to);
  }

  /** Show or hide what else a line holds. @param {HTMLElement} button */
  static more(button) {
    const panel = by(button.getAttribute("aria-controls") ?? "");
    panel.hidden = !panel.hidden;
    button.setAttribute("aria-expanded", String(!panel.hidden));
  }

  /** @returns {HTMLElement | null} the line that is open as a sheet */
  #opened() {
    return document.querySelector(".rows [data-editing]");
  }

  /** Open a line as a sheet, where the window is so narrow that it is a text. @param {HTMLElement | null} line */
  open(line) {
    if (!line) return;
    this.#opened()?.removeAttribute("data-editing");
    line.dataset.editing = "";
    const [name, mass] = ["td:not(.no) input", "td.mass input"].map((place) => line.querySelector(place));
    const field = /** @type {HTMLInputElement} */ (line.classList.contains("blank") ? name : (mass ?? name));
    field.focus();
    field.select();
  }

  /** Go from the open line to another one. @param {HTMLElement | null} line @param {number} step */
  step(line, step) {
    if (!line) return;
    const all = lines(listOf(line));
    const at = all.indexOf(line) + step;
    this.open(all[(at + all.length) % all.length] ?? null);
  }

  close() {
    const line = this.#opened();
    line?.removeAttribute("data-editing");
    /** @type {HTMLElement | null | undefined} */ (line?.querySelector(".line-told"))?.focus();
  }
}
