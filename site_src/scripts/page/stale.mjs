/** Marks an answer that is not of what stands in the form, while the one that is takes its time. */
import { by } from "./dom.mjs";

const SOON = 500; // ms; an answer takes some hundredths of a second, once the sums have started

const TYPED = "This answer is not of what you typed yet.";
const LAST_TIME = "As of last time: the sums are still starting.";
const OPENING = "This answer is of an example, not of your budget: that opens in a moment.";

export class Stale {
  #timer = 0;
  #answered = false;

  /** @returns {boolean} whether the page says that its answer is an old one */
  get isTold() {
    return by("form").classList.contains("stale");
  }

  /**
   * The page shows another answer while a budget is being opened.
   * @param {boolean} own whether its own, of last time
   */
  opening(own) {
    mark(own ? LAST_TIME : OPENING);
  }

  /**
   * Something was changed, or another budget asked for: the answer shown is an old one if the new one does not come
   * soon.
   */
  asked() {
    if (this.#timer) return;
    this.#timer = window.setTimeout(() => mark(TYPED), this.#answered ? SOON : 0);
  }

  /** There will be no answer to what was asked. */
  refused() {
    this.#stop();
    mark(TYPED);
  }

  /** The answer shown is of what stands in the form. */
  answered() {
    this.#answered = true;
    this.#stop();
    mark("");
  }

  #stop() {
    clearTimeout(this.#timer);
    this.#timer = 0;
  }
}

/**
 * Say so beside the answer and on the bar; what the templates write next takes the words away.
 * @param {string} text "" if the answer is of what stands there
 */
function mark(text) {
  for (const place of [by("answer"), by("bar")]) {
    place.classList.toggle("stale", text !== "");
    place.setAttribute("aria-busy", String(text !== ""));
    place.querySelector(":scope > .stale-word")?.remove();
    if (!text) continue;
    const word = Object.assign(document.createElement("span"), { className: "stale-word", textContent: text });
    place.prepend(word);
  }
  by("form").classList.toggle("stale", text !== "");
  by("copy-link", HTMLButtonElement).disabled = text !== "" || by("link", HTMLInputElement).value === "";
}
