/** Which parts of the answer show how their numbers come about: by the button below, or by the number itself. */

export class Why {
  /** @type {Set<string>} */
  #open = new Set();

  /** @returns {string[]} the parts that show their workings */
  get parts() {
    return [...this.#open];
  }

  /** @param {string} part */
  toggle(part) {
    if (!this.#open.delete(part)) this.#open.add(part);
  }

  /**
   * Open the part of a number that was clicked.
   * @param {Element} target
   * @returns {{part: string, line: string} | null} null if it was no number, or a text was marked
   */
  asked(target) {
    const number = target.closest(".subject [data-why]");
    const part = number?.closest(".subject")?.id.replace("subject-", "");
    if (!(number instanceof HTMLElement) || !part || getSelection()?.isCollapsed === false) return null;
    this.#open.add(part);
    return { part, line: number.dataset.why ?? "" };
  }

  /** Bring a working into view. @param {{part: string, line: string}} asked */
  static show({ part, line }) {
    const lines = [...document.querySelectorAll(`#why-${part} [data-line]`)];
    for (const each of lines) each.classList.toggle("asked", /** @type {HTMLElement} */ (each).dataset.line === line);
    const found = document.querySelector(`#why-${part} .asked`) ?? lines[0];
    found?.scrollIntoView({ block: "nearest" });
  }
}
