/** What every page with sums but the budget's own shares: the engine with its line of text, and a line for what is told. */
import { Engine, EngineError } from "./engine.mjs";
import { keepSite } from "./offline.mjs";
import { sayInPause } from "./said.mjs";

/** @param {string} id @returns {any} */
export const by = (id) => document.getElementById(id);

/** @returns {Engine} */
export function startEngine() {
  const banner = by("engine");
  const engine = new Engine((notice) => {
    if (notice.event === "failed") document.documentElement.dataset.engine = "failed";
    banner.hidden = notice.event === "ready";
    banner.textContent =
      notice.event === "failed" ? `The sums do not run in this browser just now (${notice.text}). Load the page anew, or try another browser.`
      : notice.event === "late" ? "The sums are taking far longer than they should. Load the page anew."
      : `Starting: ${notice.text}.`;
  });
  document.documentElement.dataset.runs = ""; // else the page says by itself that nothing runs
  return engine;
}

/** The page has an answer: a screen reader is told the gist of it. */
export function answered() {
  const gist = [...document.querySelectorAll("[data-said]")].map((each) => each.textContent?.replace(/\s+/g, " ").trim());
  if (by("said")) sayInPause(by("said"), gist.join(" "));
  const root = document.documentElement;
  if (root.dataset.engine === "ready") return;
  root.dataset.engine = "ready";
  performance.mark("answer");
  keepSite();
}

/** @param {string} text */
export function tell(text) {
  by("told").textContent = text;
}

/** @param {unknown} error */
export function fail(error) {
  if (error instanceof EngineError && error.code === "stopped") return; // the engine's own line says it
  tell(error instanceof Error ? error.message : String(error));
}

/** @param {string} text @param {string} label @param {() => void} act */
export function offer(text, label, act) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = label;
  button.addEventListener("click", act);
  by("told").replaceChildren(`${text} `, button);
}
