/** The tools over the form: the choice among the visitor's budgets, and what can be done with the one that is open. */
import { by } from "./dom.mjs";
import { isReady } from "./engineline.mjs";
import { line } from "./names.mjs";

const WAY_OUT = new Set(["mine", "save-file"]); // what works without sums

/** @returns {HTMLSelectElement} */
const mine = () => by("mine", HTMLSelectElement);

/** Enable what can be done. @param {"all" | "out"} what all, or what gets work out of a page without sums */
export function showTools(what) {
  by("tools").hidden = false;
  for (const tool of by("tools").querySelectorAll("button, select")) {
    if (!(tool instanceof HTMLButtonElement || tool instanceof HTMLSelectElement)) continue;
    if (tool.id === "print" || tool.closest("#share")) continue; // these go by the answer
    tool.disabled = what === "out" && !WAY_OUT.has(tool.id);
  }
  by("first", HTMLButtonElement).disabled = what !== "all";
  if (what === "all") showDeletable();
}

function showDeletable() {
  by("delete", HTMLButtonElement).disabled = chosen() === "";
}

/** @returns {string} the id chosen among the visitor's budgets */
export function chosen() {
  return mine().value;
}

/** @param {import("./store/budgets.mjs").Listed[]} budgets @param {string} current */
export function showMine(budgets, current) {
  const select = mine();
  const listed = budgets.map((each) => [each.id, line(each)]);
  const wanted = [["", budgets.length ? "choose…" : "none yet"], ...listed];
  wanted.forEach(([value = "", text = ""], index) => {
    const option = select.options[index];
    if (!option) select.add(new Option(text, value));
    else if (option.value !== value || option.text !== text) select.options[index] = new Option(text, value);
  });
  select.options.length = wanted.length;
  select.value = budgets.some(({ id }) => id === current) ? current : "";
  if (isReady()) showDeletable();
}

/** @param {number} count of saved budgets that cannot be read */
export function showDamaged(count) {
  by("damaged").hidden = count === 0;
  by("damaged-count").textContent = count === 1 ? "One saved budget" : `${count} saved budgets`;
}

/** @param {"mine" | "examples"} id @param {(value: string) => void} act */
export function onChoice(id, act) {
  const select = by(id, HTMLSelectElement);
  select.addEventListener("change", () => {
    const { value } = select;
    if (id === "examples") select.value = "";
    if (value) act(value);
  });
}
