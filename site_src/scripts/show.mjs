/** What the page shows: each function changes one place. Texts go in as text; HTML comes only from the templates. */
import { Idiomorph } from "idiomorph";
import { line } from "./names.mjs";
import { sayInPause } from "./said.mjs";

/** @param {string} id @returns {HTMLElement} */
const by = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** Change a place to new HTML of the templates, keeping what is open and where the focus is. @param {Element} place @param {string} html */
function morph(place, html) {
  Idiomorph.morph(place, html, {
    morphStyle: "innerHTML",
    callbacks: { beforeAttributeUpdated: (/** @type {string} */ name, /** @type {Element} */ node) => !(name === "open" && node instanceof HTMLDetailsElement) },
  });
}

/** @param {string} id @param {string} text */
function say(id, text) {
  by(id).textContent = text;
  by(id).hidden = text === "";
}

/** The line about the engine, with a button where starting again may help. @param {string} text @param {boolean} [again] */
function engine(text, again = false) {
  say("engine", text);
  if (again) by("engine").append(" ", button("again", "Start again"));
}

/** @param {string} what it does @param {string} text @returns {HTMLButtonElement} */
function button(what, text) {
  const made = document.createElement("button");
  made.type = "button";
  made.dataset.do = what;
  made.textContent = text;
  return made;
}

/** @param {string} text @param {boolean} example whether the page shows an example meanwhile, not what is being opened */
export function engineStage(text, example) {
  document.documentElement.dataset.engine = "starting";
  const meanwhile = example ? "Until then you see an example, worked out when the page was made." : "Your budget opens in a moment.";
  engine(`Starting: ${text}. ${meanwhile}`);
}

export function engineReady() {
  document.documentElement.dataset.engine = "ready";
  if (!by("engine").hidden) engine("");
}

/** @param {string} reason */
export function engineFailed(reason) {
  document.documentElement.dataset.engine = "failed";
  engine(`The sums do not run in this browser just now (${reason}). Figures shown are of an example or of the last answer. What you typed is kept: choose it under My budgets, and save it as a file.`, true);
  tools("out");
}

export function engineLate() {
  engine("The sums are taking far longer than they should. What you typed is kept.", true);
}

/** @param {string} text */
export function trouble(text) {
  say("trouble", text);
}

const WAY_OUT = new Set(["mine", "save-file"]); // what works without sums

/** Enable what can be done. @param {"all" | "out" | "none"} what */
export function tools(what) {
  by("tools").hidden = false;
  for (const tool of by("tools").querySelectorAll("button, select")) {
    /** @type {HTMLButtonElement | HTMLSelectElement} */ (tool).disabled = what === "none" || (what === "out" && !WAY_OUT.has(tool.id));
  }
  /** @type {HTMLButtonElement} */ (by("first")).disabled = what !== "all";
  if (what === "all") deletable();
}

function deletable() {
  /** @type {HTMLButtonElement} */ (by("delete")).disabled = chosen() === "";
}

/** @returns {string} the id chosen among the visitor's budgets */
export function chosen() {
  return /** @type {HTMLSelectElement} */ (by("mine")).value;
}

/** @param {number} count */
export function damaged(count) {
  by("damaged").hidden = count === 0;
  by("damaged-count").textContent = count === 1 ? "One saved budget" : `${count} saved budgets`;
}

/** @param {{name: string, headline: string, answer: string, bar: string, problems: Record<string, string>, notes: Record<string, string>, bare: string[], link: string, link_problem: string}} result @param {string} address */
export function answer(result, address) {
  morph(by("answer"), result.answer);
  morph(by("bar"), result.bar);
  beside(result.problems, result.notes, new Set(result.bare));
  const link = /** @type {HTMLInputElement} */ (by("link"));
  link.value = result.link ? address : "";
  by("copied").textContent = result.link_problem;
  document.title = `${result.name || "Budget"}: Thistledown`;
  // What is wrong with the field that somebody is in, and the verdict.
  const typed = /** @type {HTMLElement | null | undefined} */ (document.activeElement?.closest("#form [data-field]"))?.dataset.field ?? "";
  sayInPause(by("said"), [result.problems[typed], result.headline].filter(Boolean).join(" "));
}

/**
 * Put the sentences beside the fields, and the unit beside a number that was typed without.
 * @param {Record<string, string>} problems @param {Record<string, string>} notes @param {Set<string>} bare
 */
function beside(problems, notes, bare) {
  for (const field of by("form").querySelectorAll("[data-field]")) {
    const path = /** @type {HTMLElement} */ (field).dataset.field ?? "";
    const problem = problems[path] ?? "";
    change(field.querySelector(".note"), notes[path] ?? "");
    change(field.querySelector(".problem"), problem);
    field.classList.toggle("bad", problem !== "");
    field.classList.toggle("bare", bare.has(path));
    const entry = field.querySelector("input, select");
    if (problem) entry?.setAttribute("aria-invalid", "true");
    else entry?.removeAttribute("aria-invalid");
    if (problem) entry?.closest("details")?.setAttribute("open", "");
  }
  change(document.getElementById("gear-problem"), problems["gear"] ?? "");
  const seen = new Set([...by("form").querySelectorAll("[data-field]")].map((field) => /** @type {HTMLElement} */ (field).dataset.field));
  const other = Object.entries(problems).filter(([path]) => !seen.has(path) && path !== "gear");
  trouble(other.map(([path, text]) => `${path || "budget"}: ${text}`).join(" "));
}

/** @param {Element | null} place @param {string} text */
function change(place, text) {
  if (place && place.textContent !== text) place.textContent = text;
}

/** Show another document's form. @param {HTMLFormElement} place @param {string} html */
export function form(place, html) {
  morph(by("form-gate"), html);
  // Morphing changes attributes; what a field shows once it has been typed in is its property.
  for (const field of place.elements) {
    if (field instanceof HTMLInputElement && field.type === "checkbox") field.checked = field.defaultChecked;
    else if (field instanceof HTMLInputElement) field.value = field.defaultValue;
    else if (field instanceof HTMLSelectElement) {
      const chosen = [...field.options].findIndex((option) => option.defaultSelected);
      field.selectedIndex = Math.max(0, chosen);
    }
  }
}

/** @param {boolean} shown @param {string} name @param {boolean} like whether the visitor has one of that name, which is held */
export function sharedBanner(shown, name, like) {
  by("shared").hidden = !shown;
  by("shared-name").textContent = name ? `“${name}” came by link.` : "This budget came by link.";
  by("shared-like").hidden = !like;
}

/** @param {string} text what is to be said of the link that was opened, "" for nothing */
export function sharedTold(text) {
  by("shared-told").textContent = text;
}

/** @param {import("./store.mjs").Listed[]} budgets @param {string} current */
export function mine(budgets, current) {
  const select = /** @type {HTMLSelectElement} */ (by("mine"));
  const wanted = [["", budgets.length ? "choose…" : "none yet"], ...budgets.map((listed) => [listed.id, line(listed)])];
  wanted.forEach(([value = "", text = ""], index) => {
    const option = select.options[index];
    if (!option) select.add(new Option(text, value));
    else if (option.value !== value || option.text !== text) select.options[index] = new Option(text, value);
  });
  select.options.length = wanted.length;
  select.value = budgets.some(({ id }) => id === current) ? current : "";
  if (document.documentElement.dataset.engine === "ready") deletable();
}

/** @param {string} id @param {(value: string) => void} act */
export function onChoice(id, act) {
  const select = /** @type {HTMLSelectElement} */ (by(id));
  select.addEventListener("change", () => {
    const value = select.value;
    if (id === "examples") select.value = "";
    if (value) act(value);
  });
}

const KEPT = {
  "": "",
  device: "Kept on this device.",
  tab: "Changes stay with this tab until you keep a copy.",
  beside: "Another tab changed this budget meanwhile, so what stands here is kept beside it, as a second one.",
  nowhere: "This browser does not keep it (its store is full or closed): it lasts only as long as this page. Save it as a file or copy the link.",
};

/** Say where the budget is kept. @param {keyof typeof KEPT} where */
export function kept(where) {
  done(KEPT[where]);
}

/** @param {string} text */
export function done(text) {
  change(by("kept"), text);
}

export async function copyLink() {
  const link = /** @type {HTMLInputElement} */ (by("link"));
  try {
    await navigator.clipboard.writeText(link.value);
    by("copied").textContent = "The link is copied.";
  } catch {
    link.select();
    by("copied").textContent = "The link is selected: copy it with your keyboard or the menu.";
  }
}

/** @param {string} text @param {string} name @param {string} [type] */
export function download(text, name, type = "application/json") {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const anchor = document.createElement("a");
  anchor.href = address;
  anchor.download = name;
  anchor.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** @returns {boolean} whether the window is so narrow that the answer is a sheet over the form, with a bar */
export function hasBar() {
  return getComputedStyle(by("bar")).display !== "none";
}

/** @returns {boolean} */
export function isAnswerOpen() {
  return document.body.classList.contains("answer-open");
}

/** Open or close the sheet over the form. @param {boolean} open @param {boolean} [focused] whether the focus goes with it */
export function answerOpen(open, focused = true) {
  if (open === isAnswerOpen()) return;
  document.body.classList.toggle("answer-open", open);
  by("bar").setAttribute("aria-expanded", String(open));
  if (focused) by(open ? "answer" : "bar").focus();
}

/** Put the focus on the row that was moved or added. @param {string} what @param {number} index @param {number} rows */
export function focusRow(what, index, rows) {
  const to = what === "row-up" ? index - 1 : what === "row-down" ? index + 1 : what === "row-add" ? rows - 1 : Math.min(index, rows - 1);
  const tool = what === "row-add" ? `gear-${to}-kind` : `gear-${to}-${what.slice(4)}`;
  const place = document.getElementById(tool);
  const enabled = place instanceof HTMLButtonElement && place.disabled ? document.getElementById(`gear-${to}-mass`) : place;
  (enabled ?? by("row-add")).focus();
}

/** Go to a field, opened where it is folded; to the part it stands in if there is no such field. @param {string} id */
export function goTo(id) {
  const place = document.getElementById(id) ?? document.getElementById(`part-${id.split("-")[0]}`);
  for (let fold = place?.closest("details"); fold; fold = fold.parentElement?.closest("details")) fold.open = true;
  place?.focus();
  place?.scrollIntoView({ block: "center" });
}

/** @param {string} id */
export function focus(id) {
  document.getElementById(id)?.focus();
}

/** @param {"first" | "stock"} name @returns {HTMLFormElement} the form in a dialog */
export function dialogForm(name) {
  return /** @type {HTMLFormElement} */ (by(`${name}-form`));
}

/** @param {"first" | "stock"} name of the newcomer's start, or of what weighs stock @param {boolean} open */
export function dialog(name, open) {
  const shown = /** @type {HTMLDialogElement} */ (by(`${name}-dialog`));
  if (open) shown.showModal();
  else shown.close();
}

/** @param {"first" | "stock"} name @returns {boolean} */
export function isDialogOpen(name) {
  return /** @type {HTMLDialogElement} */ (by(`${name}-dialog`)).open;
}

/** Show the parts to take from the box; close it with nothing. @param {string} html of the templates */
export function boxDialog(html) {
  const dialog = /** @type {HTMLDialogElement} */ (by("box-dialog"));
  by("box-picks").innerHTML = html;
  if (!html) dialog.close();
  else if (!dialog.open) dialog.showModal();
}

/** @param {string} id @returns {string} what stands in a field */
export function fieldText(id) {
  const field = by(id);
  return field instanceof HTMLInputElement || field instanceof HTMLSelectElement ? field.value : "";
}

/** Put a mass from dimensions into a gear row: a catalogue figure, since nothing was weighed. @param {string} row @param {string} mass @param {string} name */
export function intoRow(row, mass, name) {
  const called = /** @type {HTMLInputElement} */ (by(`gear-${row}-name`));
  /** @type {HTMLInputElement} */ (by(`gear-${row}-mass`)).value = mass;
  /** @type {HTMLSelectElement} */ (by(`gear-${row}-known_by`)).value = "maker";
  if (called.value === "") called.value = name;
  by(`gear-${row}-mass`).focus();
}
