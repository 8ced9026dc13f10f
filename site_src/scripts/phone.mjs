/** The answer of a phone: a sheet over the form. Back, Escape and its bar close it. */
import { write } from "./address.mjs";
import * as show from "./show.mjs";

/** The browser's history holds `{answer, of}` while it is open, and at the step before: `of` names the budget's visit. */
export class PhoneAnswer {
  #visit;
  #address;

  /** @param {() => string} visit a name for the showing of the present budget @param {() => string} address the fragment that belongs to it */
  constructor(visit, address) {
    this.#visit = visit;
    this.#address = address;
    if (history.state?.answer) history.replaceState(null, ""); // loaded anew: it is closed
    addEventListener("popstate", () => this.#stepped());
    addEventListener("keydown", (event) => {
      if (event.key === "Escape" && show.isAnswerOpen() && !document.querySelector("dialog[open]")) this.close();
    });
  }

  /** Whoever came here by Back, Forward or a link: is it a step with the answer open, and of this budget? */
  #stepped() {
    const { answer = false, of = "" } = history.state ?? {};
    const ours = of === this.#visit();
    if (ours) write(this.#address()); // the budget may have another link by now
    show.answerOpen(answer && ours, ours);
  }

  /** Open it where the window is so narrow that it is a sheet of its own. */
  open() {
    if (!show.hasBar() || show.isAnswerOpen()) return;
    const of = this.#visit();
    history.replaceState({ answer: false, of }, "");
    history.pushState({ answer: true, of }, "");
    show.answerOpen(true);
  }

  close() {
    if (history.state?.answer) history.back();
    else show.answerOpen(false);
  }

  toggle() {
    if (show.isAnswerOpen()) this.close();
    else this.open();
  }
}
