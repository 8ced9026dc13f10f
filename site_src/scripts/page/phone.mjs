/** The answer of a phone: a sheet over the form. Back, Escape and its bar close it. */
import { write } from "./address.mjs";
import { by } from "./dom.mjs";

/** @returns {boolean} whether the window is so narrow that the answer is a sheet over the form, with a bar */
function hasBar() {
  return getComputedStyle(by("bar")).display !== "none";
}

/** @returns {boolean} */
function isOpen() {
  return document.body.classList.contains("answer-open");
}

/**
 * Open or close the sheet over the form.
 * @param {boolean} open
 * @param {boolean} [focused] whether the focus goes with it
 */
function showOpen(open, focused = true) {
  if (open === isOpen()) return;
  document.body.classList.toggle("answer-open", open);
  by("bar").setAttribute("aria-expanded", String(open));
  if (focused) by(open ? "answer" : "bar").focus();
}

/**
 * The browser's history holds `{answer, of}` while it is open, and at the step before: `of` names the budget's visit.
 */
export class PhoneAnswer {
  #visit;
  #address;

  /**
   * @param {() => string} visit a name for the showing of the present budget
   * @param {() => string} address the fragment that belongs to it
   */
  constructor(visit, address) {
    this.#visit = visit;
    this.#address = address;
    if (history.state?.answer) history.replaceState(null, ""); // loaded anew: it is closed
    addEventListener("popstate", () => this.#stepped());
    addEventListener("keydown", (event) => {
      if (event.key === "Escape" && isOpen() && !document.querySelector("dialog[open]")) this.close();
    });
  }

  /** Whoever came here by Back, Forward or a link: is it a step with the answer open, and of this budget? */
  #stepped() {
    const { answer = false, of = "" } = history.state ?? {};
    const ours = of === this.#visit();
    if (ours) write(this.#address()); // the budget may have another link by now
    showOpen(answer && ours, ours);
  }

  /** Open it where the window is so narrow that it is a sheet of its own. */
  open() {
    if (!hasBar() || isOpen()) return;
    const of = this.#visit();
    history.replaceState({ answer: false, of }, "");
    history.pushState({ answer: true, of }, "");
    showOpen(true);
  }

  close() {
    if (history.state?.answer) history.back();
    else showOpen(false);
  }

  /** Whatever hides the form gives way. */
  closeIfOpen() {
    if (isOpen()) this.close();
  }

  toggle() {
    if (isOpen()) this.close();
    else this.open();
  }
}
