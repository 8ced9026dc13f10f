/** HTML of the templates in place of what stood there; HTML comes from nowhere else. */
import { Idiomorph } from "idiomorph";

/** @param {string} name of an attribute @param {Element} node @returns {boolean} whether the visitor's hand set it */
function isOurs(name, node) {
  if (name === "open") return node instanceof HTMLDetailsElement;
  if (name === "hidden") return node.matches(".rows .panel");
  if (name === "aria-expanded") return node.matches(".rows .more button");
  return name === "data-editing";
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
      // What the page filled by itself, such as a log file that is open, is not of the document.
      beforeNodeMorphed: (/** @type {Node} */ node) =>
        node === place || !(node instanceof Element && node.matches("[data-own]")),
      beforeAttributeUpdated: (/** @type {string} */ name, /** @type {Element} */ node) => !isOurs(name, node),
    },
  });
}
