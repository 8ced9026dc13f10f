/** What every page listens to: clicks on buttons that say what they do, and the visitor's coming and going. */
import { texts } from "./store/texts.mjs";

/** @typedef {Record<string, (button: HTMLElement) => unknown>} Doers what each word in `data-do` stands for */

/**
 * Do what a button says in its `data-do` when it is clicked.
 * @param {Doers} doers
 * @param {(error: unknown) => void} fail
 * @param {(target: Element) => unknown} [otherwise] what a click on anything else does
 */
export function onDo(doers, fail, otherwise = () => {}) {
  const act = async (/** @type {Event} */ event) => {
    if (!(event.target instanceof Element)) return;
    const clicked = event.target.closest("[data-do]");
    if (!(clicked instanceof HTMLElement)) return otherwise(event.target);
    if (clicked instanceof HTMLAnchorElement) event.preventDefault(); // the address is for what a link holds
    return doers[clicked.dataset.do ?? ""]?.(clicked);
  };
  document.addEventListener("click", (event) => act(event).catch(fail));
}

/** Have the browser ask before the page is left with something that is kept nowhere else. */
export function askBeforeLeaving() {
  addEventListener("beforeunload", (event) => {
    if (texts.isOnlyHere()) event.preventDefault();
  });
}

/** Act when the page is looked at again: a sleeping tab hears of no change. @param {() => void} act */
export function onReturn(act) {
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") act();
  });
}
