/** Places of the page, and the texts that go into them. */

/**
 * The place with an id, which the page has.
 * @template {HTMLElement} [T=HTMLElement]
 * @param {string} id
 * @param {new () => T} [_kind] what it is, where more is wanted of it than of any element
 * @returns {T}
 */
export function by(id, _kind) {
  return /** @type {T} */ (document.getElementById(id));
}

/** Put a text where another one stands. @param {Element | null} place @param {string} text */
export function change(place, text) {
  if (place && place.textContent !== text) place.textContent = text;
}

/** Put a text into a place that is hidden while it holds none. @param {string} id @param {string} text */
export function say(id, text) {
  by(id).textContent = text;
  by(id).hidden = text === "";
}

/** @param {string} text @param {(() => void) | string} act what it does, or the word for it in `data-do` */
export function button(text, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  if (typeof act === "string") made.dataset.do = act;
  else made.addEventListener("click", act);
  return made;
}

/** @param {string} id @returns {string} what stands in a field */
export function fieldText(id) {
  const field = by(id);
  return field instanceof HTMLInputElement || field instanceof HTMLSelectElement ? field.value : "";
}
