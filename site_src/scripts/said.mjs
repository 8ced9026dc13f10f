const PAUSE = 900; // milliseconds: while keys are pressed a screen reader drops what a status says

let saying = 0;

/**
 * Tell a screen reader something once the typing pauses.
 * @param {Element} place with the role of a status @param {string} text
 */
export function sayInPause(place, text) {
  clearTimeout(saying);
  saying = setTimeout(() => {
    if (place.textContent !== text) place.textContent = text;
  }, PAUSE);
}
