/**
 * The table of the gear: Enter goes down a column, an empty line always waits for the next part, a line is moved by
 * dragging its number or with Alt and the arrow keys, and on a phone it opens as a sheet over the page.
 */
import { MOST_ROWS } from "./document.mjs";
import { by } from "./dom.mjs";

/** @param {EventTarget | null} target @returns {HTMLElement | null} the line that an event is about */
const lineOf = (target) =>
  target instanceof Element ? /** @type {HTMLElement | null} */ (target.closest(".gear .line")) : null;

/** @param {HTMLElement} line @returns {string} its row: a number, or `cell` */
const rowOf = (line) => line.dataset.row ?? "";

/** @returns {HTMLElement[]} the lines as they stand */
export const lines = () => /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".gear tbody .line")]);

export class GearTable {
  #move;
  #dragged = -1;

  /** @param {HTMLElement} form @param {(from: number, to: number) => void} move what moves a row */
  constructor(form, move) {
    this.#move = move;
    // Before the form is read: what is typed into the empty line makes it a part.
    form.addEventListener("input", (event) => this.#typed(event.target), true);
    form.addEventListener("keydown", (event) => this.#key(event));
    form.addEventListener("dragstart", (event) => this.#drag(event));
    form.addEventListener("dragover", (event) => {
      if (this.#dragged >= 0 && this.#rowNumber(lineOf(event.target)) >= 0) event.preventDefault();
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

  /** @param {EventTarget | null} target */
  #typed(target) {
    const line = lineOf(target);
    if (line && target instanceof HTMLInputElement && target.type === "checkbox")
      line.classList.toggle("out", target.checked); // left out: dimmed
    if (!line?.classList.contains("blank")) return;
    line.classList.remove("blank");
    /** @type {HTMLElement} */ (line.querySelector(".no")).draggable = true;
    const known = /** @type {HTMLSelectElement} */ (line.querySelector("select[name$='.known_by']"));
    const { value } = known;
    for (const option of known.options) option.defaultSelected = false; // nobody weighed it: that is told, not left out
    known.value = value; // taking the marks away has chosen the first one
    const next = Number(rowOf(line)) + 1;
    if (next < MOST_ROWS) line.after(emptyLine(next));
  }

  /** @param {KeyboardEvent} event @returns {void} */
  #key(event) {
    const line = lineOf(event.target);
    if (!line || !(event.target instanceof HTMLElement)) return;
    const cell = event.target.closest("td");
    const up = event.key === "ArrowUp";
    if (event.key === "Enter" && event.target.matches("input[type='text']") && cell) {
      event.preventDefault();
      if (this.#opened()) return this.step(rowOf(line), event.shiftKey ? -1 : 1);
      const next = event.shiftKey ? line.previousElementSibling : line.nextElementSibling;
      /** @type {HTMLElement | null | undefined} */ (next?.querySelector(`td.${cell.classList[0]} input`))?.focus();
    } else if (event.altKey && (up || event.key === "ArrowDown")) {
      const from = this.#rowNumber(line);
      const to = from + (up ? -1 : 1);
      if (from < 0 || to < 0 || this.#rowNumber(document.getElementById(`gear-${to}`)) < 0) return;
      event.preventDefault();
      this.#move(from, to);
    }
  }

  /** @param {DragEvent} event */
  #drag(event) {
    const line = lineOf(event.target);
    this.#dragged = this.#rowNumber(line);
    if (this.#dragged < 0 || !event.dataTransfer) return;
    event.dataTransfer.effectAllowed = "move";
    event.dataTransfer.setData("text/plain", "");
  }

  /** @param {DragEvent} event */
  #drop(event) {
    const to = this.#rowNumber(lineOf(event.target));
    const from = this.#dragged;
    this.#dragged = -1;
    if (from < 0) return; // a file: others take it
    event.preventDefault();
    event.stopPropagation();
    if (to >= 0 && to !== from) this.#move(from, to);
  }

  /** Show or hide what else a line holds. @param {HTMLElement} button */
  static more(button) {
    const panel = by(button.getAttribute("aria-controls") ?? "");
    panel.hidden = !panel.hidden;
    button.setAttribute("aria-expanded", String(!panel.hidden));
  }

  /** @returns {HTMLElement | null} the line that is open as a sheet */
  #opened() {
    return document.querySelector(".gear [data-editing]");
  }

  /** Open a line as a sheet, where the window is so narrow that it is a text. @param {string} row */
  open(row) {
    this.#opened()?.removeAttribute("data-editing");
    const line = by(`gear-${row}`);
    line.dataset.editing = "";
    const first = line.classList.contains("blank") ? "td.name input" : "td.mass input";
    const field = /** @type {HTMLInputElement} */ (line.querySelector(first));
    field.focus();
    field.select();
  }

  /** Go from the open line to another one. @param {string} row @param {number} step */
  step(row, step) {
    const all = lines();
    const at = all.findIndex((line) => rowOf(line) === row) + step;
    const next = all[(at + all.length) % all.length];
    if (next) this.open(rowOf(next));
  }

  close() {
    const line = this.#opened();
    line?.removeAttribute("data-editing");
    /** @type {HTMLElement | null | undefined} */ (line?.querySelector(".line-told"))?.focus();
  }
}

/** @param {number} index @returns {Node} a line that waits for the next part */
export function emptyLine(index) {
  const template = /** @type {HTMLTemplateElement} */ (by("gear-blank"));
  const line = /** @type {HTMLElement} */ (
    /** @type {Element} */ (template.content.querySelector(".line")).cloneNode(true)
  );
  for (const each of [line, ...line.querySelectorAll("*")]) {
    for (const { name, value } of [...each.attributes]) {
      if (value.includes("__")) each.setAttribute(name, value.replaceAll("__", String(index)));
    }
  }
  return line;
}
