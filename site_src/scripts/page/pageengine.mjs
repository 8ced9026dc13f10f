/**
 * What every page with sums but the budget's own shares: the engine with its line of text, and a line for what is told.
 */
import { Engine, EngineError } from "../engine/engine.mjs";
import { keeping } from "../engine/offline.mjs";
import { announcer } from "./announce.mjs";
import { button, by } from "./dom.mjs";

const root = document.documentElement;
const LATE = "The sums are taking far longer than they should. Load the page anew.";

/** @returns {Engine} */
export function startEngine() {
  const banner = by("engine");
  const engine = new Engine(({ event, text }) => {
    if (event === "failed") root.dataset.engine = "failed";
    banner.hidden = event === "ready";
    if (event === "failed") {
      const reason = `The sums do not run in this browser just now (${text}).`;
      banner.textContent = `${reason} Load the page anew, or try another browser.`;
    } else banner.textContent = event === "late" ? LATE : `Starting: ${text}.`;
  });
  root.dataset.runs = ""; // else the page says by itself that nothing runs
  return engine;
}

/** The page has an answer: a screen reader is told the gist of it. */
export function answered() {
  const gist = [...document.querySelectorAll("[data-said]")];
  const texts = gist.map((each) => each.textContent?.replace(/\s+/g, " ").trim());
  const said = document.getElementById("said");
  if (said) announcer.announce(said, texts.join(" "));
  if (root.dataset.engine === "ready") return;
  root.dataset.engine = "ready";
  performance.mark("answer");
  keeping.keepSite();
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

/** Tell something, with a button. @param {string} text @param {string} label @param {() => void} act */
export function offer(text, label, act) {
  by("told").replaceChildren(`${text} `, button(label, act));
}
