/** What a screen reader is told once the typing pauses: while keys are pressed it drops what a status says. */

const PAUSE = 900; // milliseconds

class Announcer {
  #timer = 0;

  /** @param {Element} place with the role of a status @param {string} text */
  announce(place, text) {
    clearTimeout(this.#timer);
    this.#timer = window.setTimeout(() => {
      if (place.textContent !== text) place.textContent = text;
    }, PAUSE);
  }
}

export const announcer = new Announcer(); // one for the page: the newest text is what counts
