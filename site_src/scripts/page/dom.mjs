/** Places of the page, and how they change. Texts go in as text; HTML comes only from the templates. */
import { Idiomorph } from "idiomorph";

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

/**
 * Change a place to new HTML of the templates, keeping what is open and where the focus is.
 * @param {Element} place
 * @param {string} html
 * @param {{keepTyped?: boolean}} [how] whether the field that has the focus keeps what stands in it
 */
export function morph(place, html, { keepTyped = false } = {}) {
  Idiomorph.morph(place, html, {
    morphStyle: "innerHTML",
    ignoreActiveValue: keepTyped,
    callbacks: {
      beforeAttributeUpdated: (/** @type {string} */ name, /** @type {Element} */ node) =>
        !(name === "open" && node instanceof HTMLDetailsElement),
    },
  });
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
