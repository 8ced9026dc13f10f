/** The engine of a page other than the budget: its line of text, its state, and the first answer's mark. */
import { Engine } from "./engine.mjs";
import { keepSite } from "./offline.mjs";

/** @returns {Engine} */
export function startEngine() {
  const root = document.documentElement;
  const banner = /** @type {HTMLElement} */ (document.getElementById("engine"));
  return new Engine((notice) => {
    if (notice.event === "failed") root.dataset.engine = "failed";
    banner.hidden = notice.event === "ready";
    banner.textContent =
      notice.event === "failed" ? `The sums do not run in this browser just now (${notice.text}). Load the page anew, or try another browser.`
      : notice.event === "late" ? "The sums are taking far longer than they should. Load the page anew."
      : `Starting: ${notice.text}.`;
  });
}

/** The page has its first answer. */
export function answered() {
  const root = document.documentElement;
  if (root.dataset.engine === "ready") return;
  root.dataset.engine = "ready";
  performance.mark("answer");
  keepSite();
}

/** @param {string} text */
export function tell(text) {
  const place = /** @type {HTMLElement} */ (document.getElementById("told"));
  place.textContent = text;
}

/** @param {string} text @param {string} label @param {() => void} act */
export function offer(text, label, act) {
  const place = /** @type {HTMLElement} */ (document.getElementById("told"));
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = label;
  button.addEventListener("click", act);
  place.replaceChildren(`${text} `, button);
}
