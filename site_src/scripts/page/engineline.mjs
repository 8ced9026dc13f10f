/** The budget page's line about the engine. */
import { button, by, say } from "./dom.mjs";

const root = document.documentElement;
const FAILED =
  "Figures shown are of an example or of the last answer. What you typed is kept: choose it under My budgets, and " +
  "save it as a file.";

/** The line, with a button where starting again may help. @param {string} text @param {boolean} [again] */
function line(text, again = false) {
  say("engine", text);
  if (again) by("engine").append(" ", button("Start again", "again"));
}

/**
 * @param {string} text
 * @param {boolean} example whether the page shows an example meanwhile, not what is being opened
 */
export function showStage(text, example) {
  root.dataset.engine = "starting";
  const meanwhile = "Until then you see an example, worked out when the page was made.";
  line(`Starting: ${text}. ${example ? meanwhile : "Your budget opens in a moment."}`);
}

export function showReady() {
  root.dataset.engine = "ready";
  if (!by("engine").hidden) line("");
}

/** @param {string} reason */
export function showFailed(reason) {
  root.dataset.engine = "failed";
  line(`The sums do not run in this browser just now (${reason}). ${FAILED}`, true);
}

export function showLate() {
  line("The sums are taking far longer than they should. What you typed is kept.", true);
}

/** @returns {boolean} */
export const isReady = () => root.dataset.engine === "ready";

/** @returns {boolean} */
export const isFailed = () => root.dataset.engine === "failed";
