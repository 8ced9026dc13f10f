/** The answer of the budget page, the sentences beside its fields, and the lines that tell what was done. */
import { announcer } from "./announce.mjs";
import { by, change, say } from "./dom.mjs";
import { openAround } from "./focus.mjs";
import { listOf } from "./lines.mjs";
import { morph } from "./morph.mjs";

/**
 * @typedef {object} Result what Python says of a budget
 * @property {string} name
 * @property {string} headline
 * @property {Record<string, string>} places HTML by the id of the place
 * @property {Record<string, string>} problems by the path of the field
 * @property {Record<string, string>} notes by the path of the field
 * @property {string[]} bare paths of numbers that were typed without a unit
 * @property {boolean} wanting whether something keeps it from fitting, for sure or by a chance
 * @property {string} link the fragment, "" if the budget fits into none
 * @property {string} link_problem
 */

class Writer {
  /** @type {Map<string, string>} what was written last, by the id of the place */
  #written = new Map();
  #beside = "";

  /**
   * Put the sentences beside the fields, unless they are those of before, beside the same fields.
   * @param {Result} result
   */
  writeBeside({ problems, notes, bare }) {
    const fields = by("form").querySelectorAll("[data-field]");
    const text = JSON.stringify([fields.length, problems, notes, bare]);
    if (text === this.#beside) return;
    this.#beside = text;
    beside(fields, problems, notes, new Set(bare));
  }

  /** Write a place anew, where it is to hold something else than before. @param {string} id @param {string} html */
  write(id, html) {
    const place = document.getElementById(id);
    const before = this.#written.get(id);
    if (!place || before === html) return;
    if (before !== undefined || !holds(place, html)) morph(place, html);
    this.#written.set(id, html);
  }

  /** The places were written by others. */
  forget() {
    this.#written.clear();
    this.#beside = "";
  }
}

export const writer = new Writer();

const parsed = document.createElement("template");

/** @param {Element} place @param {string} html @returns {boolean} whether it holds that: pages are made with answers */
function holds(place, html) {
  parsed.innerHTML = html;
  return parsed.innerHTML === place.innerHTML;
}

/** @param {Record<string, string>} places HTML by the id of the place */
export function showPlaces(places) {
  for (const [id, html] of Object.entries(places)) writer.write(id, html);
}

/** @param {Result} result @param {string} address the link, in full */
export function showAnswer(result, address) {
  showPlaces(result.places);
  writer.writeBeside(result);
  change(by("brief-budget"), result.name || "without a name");
  by("link", HTMLInputElement).value = result.link ? address : "";
  by("copied").textContent = result.link_problem;
  document.title = `${result.name || "Budget"}: Thistledown`;
  // What is wrong with the field that somebody is in, and the verdict.
  const problem = result.problems[pathOf(document.activeElement?.closest("#form [data-field]"))];
  announcer.announce(by("said"), [problem, result.headline].filter(Boolean).join(" "));
}

/** @param {Element | null | undefined} field @returns {string} */
function pathOf(field) {
  return field instanceof HTMLElement ? (field.dataset.field ?? "") : "";
}

/**
 * Put the sentences beside the fields, and the unit beside a number that was typed without.
 * @param {NodeListOf<Element>} fields
 * @param {Record<string, string>} problems
 * @param {Record<string, string>} notes
 * @param {Set<string>} bare
 */
function beside(fields, problems, notes, bare) {
  const lists = [...document.querySelectorAll(".rows")].map(listOf);
  const seen = new Set(lists);
  for (const field of fields) {
    const path = pathOf(field);
    seen.add(path);
    change(field.querySelector(".note"), notes[path] ?? "");
    field.classList.toggle("bare", bare.has(path));
    showProblem(field, problems[path] ?? "");
  }
  for (const list of lists) change(document.getElementById(`${list}-problem`), problems[list] ?? "");
  const other = Object.entries(problems).filter(([path]) => !seen.has(path));
  trouble.ofDocument(other.map(([path, text]) => `${path || "budget"}: ${text}`).join(" "));
}

/** @param {Element} field @param {string} problem "" for none */
function showProblem(field, problem) {
  const known = field.classList.contains("bad");
  change(field.querySelector(".problem"), problem);
  field.classList.toggle("bad", problem !== "");
  const entry = field.querySelector("input, select");
  if (problem) entry?.setAttribute("aria-invalid", "true");
  else entry?.removeAttribute("aria-invalid");
  if (problem && !known) openAround(field);
}

/**
 * What is wrong: with the document that is open, as each answer tells anew, and with what was done last. The latter
 * stays until the visitor goes on: an answer to what was asked before would wipe it away.
 */
class Trouble {
  #ofDocument = "";
  #told = "";

  /** @param {string} text "" for nothing */
  ofDocument(text) {
    this.#ofDocument = text;
    this.#show();
  }

  /** @param {string} text "" for nothing */
  tell(text) {
    this.#told = text;
    this.#show();
  }

  #show() {
    say("trouble", [this.#told, this.#ofDocument].filter(Boolean).join(" "));
  }
}

export const trouble = new Trouble();

/** Tell what was done, "" for nothing. @param {string} text */
export function showDone(text) {
  change(by("kept"), text);
}

const KEPT = {
  device: "Kept on this device.",
  tab: "Changes stay with this tab until you keep a copy.",
  beside: "Another tab changed this budget meanwhile, so what stands here is kept beside it, as a second one.",
  nowhere:
    "This browser does not keep it (its store is full or closed): it lasts only as long as this page. " +
    "Save it as a file or copy the link.",
};

/**
 * Say where the budget is kept.
 * @param {boolean} done
 * @param {Exclude<keyof typeof KEPT, "nowhere">} where if that is done
 */
export function showKept(done, where) {
  showDone(KEPT[done ? where : "nowhere"]);
}

/**
 * @param {boolean} shown
 * @param {string} name
 * @param {boolean} like whether the visitor has one of that name, which is held
 */
export function showSharedBanner(shown, name, like) {
  by("shared").hidden = !shown;
  by("shared-name").textContent = name ? `“${name}” came by link.` : "This budget came by link.";
  by("shared-like").hidden = !like;
}

/** @param {string} text what is to be said of the link that was opened, "" for nothing */
export function showSharedTold(text) {
  by("shared-told").textContent = text;
}

export async function copyLink() {
  const link = by("link", HTMLInputElement);
  try {
    await navigator.clipboard.writeText(link.value);
    by("copied").textContent = "The link is copied.";
  } catch {
    link.select();
    by("copied").textContent = "The link is selected: copy it with your keyboard or the menu.";
  }
}
