/** At the scale: one part after another, one large field; the sum and what is left stand under it as it changes. */
import { by } from "./dom.mjs";
import { lines } from "./lines.mjs";

/** @param {HTMLElement} line @param {string} cell @returns {HTMLInputElement} */
const entry = (line, cell) => /** @type {HTMLInputElement} */ (line.querySelector(`td.${cell} input`));

export class Weighing {
  #at = 0;

  constructor() {
    const dialog = this.#dialog();
    by("weigh-mass").addEventListener("input", () => this.#write());
    by("weigh-form").addEventListener("submit", (event) => {
      event.preventDefault(); // Enter goes on
      this.step(1);
    });
    dialog.addEventListener("close", () => by("weigh").focus());
  }

  /** @returns {HTMLDialogElement} */
  #dialog() {
    return /** @type {HTMLDialogElement} */ (by("weigh-dialog"));
  }

  /** @returns {HTMLElement[]} the parts that can be weighed: all that fly, the cell among them */
  #parts() {
    return lines("gear").filter((line) => !line.classList.contains("blank") && !line.classList.contains("out"));
  }

  /** Begin with the first part that was not weighed yet. */
  open() {
    const parts = this.#parts();
    const first = parts.findIndex((line) => entry(line, "weighed").value === "");
    this.#at = Math.max(0, first);
    this.#dialog().showModal();
    this.#show();
  }

  close() {
    this.#dialog().close();
  }

  /** @param {number} on how many parts on */
  step(on) {
    const last = this.#parts().length - 1;
    if (this.#at + on > last) return this.close();
    this.#at = Math.max(0, this.#at + on);
    this.#show();
  }

  #show() {
    const parts = this.#parts();
    const line = parts[this.#at];
    if (!line) return this.close();
    const planned = entry(line, "mass").value;
    const name = entry(line, "name").value || line.querySelector("select")?.value || "cell";
    by("weigh-part").textContent = `${name} (${this.#at + 1} of ${parts.length})`;
    by("weigh-planned").textContent = planned ? `planned ${planned}` : "no mass planned";
    const field = /** @type {HTMLInputElement} */ (by("weigh-mass"));
    field.value = entry(line, "weighed").value;
    /** @type {HTMLButtonElement} */ (by("weigh-back")).disabled = this.#at === 0;
    this.answered();
    field.focus();
    field.select();
  }

  /** What was typed goes into the part's line, as if it had been typed there. */
  #write() {
    const line = this.#parts()[this.#at];
    if (!line) return;
    const field = entry(line, "weighed");
    field.value = /** @type {HTMLInputElement} */ (by("weigh-mass")).value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** There is a new answer: show it under the field. */
  answered() {
    if (!this.#dialog().open) return;
    const cells = [...document.querySelectorAll("#gear-foot td")].map((cell) =>
      cell.textContent?.replaceAll(/\s+/g, " ").trim(),
    );
    by("weigh-sum").textContent = cells.filter(Boolean).join(". ");
    const line = this.#parts()[this.#at];
    by("weigh-problem").textContent = line?.querySelector("td.weighed .problem")?.textContent ?? "";
  }
}
