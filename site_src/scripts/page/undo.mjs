/**
 * What can be undone: a bar at the foot of the window tells the last step, with a button that takes it back; then the
 * step before stands there. A step belongs to the budget it was made in, and waits while another one is open.
 *
 * @typedef {{place: string | null, text: string, act: () => void | Promise<void>, field: string}} Step `field`:
 *   that was
 *   typed in, "" for another kind of step
 */
import { by } from "./dom.mjs";

const MOST = 50; // steps

export class Undo {
  /** @type {Step[]} */
  #steps = [];
  #place;
  #dismissed = false;
  #asked = 0; // how often it was asked for while a step is taken back
  #typing = false; // whether what is typed now goes on with the last step

  /** @param {() => string} place where the budget that is open is kept, "" for an example */
  constructor(place) {
    this.#place = place;
    addEventListener("focusout", () => {
      this.#typing = false;
    });
    addEventListener("keydown", (event) => this.#key(event));
  }

  /** Ctrl or Cmd with Z takes the last step back; a dialog keeps the browser's own. @param {KeyboardEvent} event */
  #key(event) {
    const asked =
      (event.ctrlKey || event.metaKey) && !event.shiftKey && !event.altKey && event.key.toLowerCase() === "z";
    if (!asked || document.querySelector("dialog[open]") || this.#here().length === 0) return;
    event.preventDefault();
    this.run();
  }

  /**
   * A step was done in the budget that is open.
   * @param {string} text
   * @param {() => void | Promise<void>} act what takes it back
   * @param {string} [field] the name of the field that was typed in
   */
  add(text, act, field = "") {
    this.#put({ place: this.#place(), text, act, field });
  }

  /**
   * A step was done that can be taken back wherever one is.
   * @param {string} text
   * @param {() => void | Promise<void>} act
   */
  addAnywhere(text, act) {
    this.#put({ place: null, text, act, field: "" });
  }

  /**
   * @param {string} field
   * @returns {boolean} whether the last step was typed into this field, and the hand has not left it
   */
  goesOn(field) {
    return this.#typing && this.#here().at(-1)?.field === field;
  }

  /** @param {Step} step */
  #put(step) {
    this.#typing = step.field !== "";
    this.#steps = [...this.#steps, step].slice(-MOST);
    this.#dismissed = false;
    this.show();
  }

  /** What was kept at one place is kept at another now. @param {string} from @param {string} to */
  moved(from, to) {
    for (const step of this.#steps) if (step.place === from) step.place = to;
  }

  /** @returns {Step[]} those that can be taken back here */
  #here() {
    return this.#steps.filter(({ place }) => place === null || place === this.#place());
  }

  /** Take the last step back; it stays when that fails. */
  async run() {
    this.#asked += 1;
    if (this.#asked > 1) return; // the one under way takes the next step back, too
    try {
      for (; this.#asked > 0; this.#asked -= 1) await this.#takeBack();
    } finally {
      this.#asked = 0;
      this.show();
    }
  }

  async #takeBack() {
    const step = this.#here().at(-1);
    if (!step) return;
    await step.act();
    this.#typing = false;
    this.#steps = this.#steps.filter((each) => each !== step);
    this.show();
  }

  /** Put the bar away until the next step. */
  dismiss() {
    this.#dismissed = true;
    this.show();
  }

  /** Show the last step that can be taken back here. */
  show() {
    const here = this.#dismissed ? [] : this.#here();
    const more = here.length - 1;
    by("undo").hidden = here.length === 0;
    by("undo-text").textContent = here.at(-1)?.text ?? "";
    by("undo-more").textContent = more > 0 ? `and ${more} ${more === 1 ? "step" : "steps"} before it` : "";
  }
}
