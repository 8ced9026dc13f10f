/** What stands after the # of the page's address: a link to a budget, what was one, or a place in the page. */

export const LINK = "#b="; // what a link's fragment begins with, as in calc/document/link.py
const CODED = 3; // times that a fragment may have been written in percent signs on its way

/** @param {string} hash @returns {string} the fragment as it was before programs wrote its signs as %3D and the like */
function plain(hash) {
  let text = hash;
  for (let times = 0; times < CODED && text.includes("%"); times++) {
    try {
      text = decodeURIComponent(text);
    } catch {
      return hash; // no such signs, then
    }
  }
  return text;
}

/** @param {string} hash @returns {string | null} the fragment of a shared budget, null if it is none */
export function linkIn(hash) {
  const text = plain(hash);
  return text.startsWith(LINK) ? text : null;
}

/** @param {string} hash @returns {boolean} whether it is a place in the page, such as #main */
export function isPlace(hash) {
  return hash.length > 1 && document.getElementById(plain(hash).slice(1)) !== null;
}

/** @param {string} hash @returns {boolean} whether it may have been a link to a budget before it was cut or changed */
export function isSpoiled(hash) {
  return /^#b/i.test(hash) && linkIn(hash) === null && !isPlace(hash);
}

/** Put a fragment into the address, "" for none, without a step of the browser's history. @param {string} fragment */
export function write(fragment) {
  if (location.hash === fragment) return;
  try {
    history.replaceState(history.state, "", location.pathname + location.search + fragment);
  } catch {
    // A browser that allows only so many changes a minute: the next one comes through.
  }
}
