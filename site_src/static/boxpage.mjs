/** The page of the box: a table of parts, one of them in the form; every change is kept at once. No sums here. */
import { edited, isBudget, nameOf } from "./document.mjs";
import { EngineError } from "./engine.mjs";
import { answered, offer, startEngine, tell } from "./pageengine.mjs";
import { download } from "./show.mjs";
import * as store from "./store.mjs";
import { Idiomorph } from "./vendor/idiomorph.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */

/** @param {string} id @returns {any} */
const by = (id) => document.getElementById(id);
const engine = startEngine();
const form = /** @type {HTMLFormElement} */ (by("part-form"));
const fileInput = /** @type {HTMLInputElement} */ (by("file"));
const FILE_MOST = 16_500_000; // bytes; Python refuses more than it reads, whatever the letters

/** @type {Budget} */
let box = store.box() ?? empty();
let editing = -1; // the part in the form
/** @type {Budget} the part as the form last showed it */
let shown = {};

/** @returns {Budget} */
function empty() {
  return { format: 1, name: "My box", units: "metric", parts: [] };
}

/** @returns {any[]} */
const parts = () => (Array.isArray(box.parts) ? box.parts : []);

/** @param {unknown} error */
function fail(error) {
  if (error instanceof EngineError && error.code === "stopped") return;
  tell(error instanceof Error ? error.message : String(error));
}

/** Keep the box, and show it. @param {Budget} next */
function change(next) {
  box = next;
  if (!store.saveBox(box)) tell("This browser does not keep the box (its store is full or closed): save it as a file.");
  table();
}

/** Change the box, with a way back. @param {Budget} next @param {string} text */
function changeWithUndo(next, text) {
  const before = box;
  change(next);
  offer(text, "Undo", () => {
    change(before);
    tell("Undone.");
  });
}

/** Show the table. */
function table() {
  by("csv").disabled = by("json").disabled = parts().length === 0;
  engine.latest("box", { box, kind: by("only").value }).then((result) => {
    if (!result) return;
    Idiomorph.morph(by("table"), result.html, { morphStyle: "innerHTML" });
    by("count").textContent = result.count === 1 ? "1 part" : `${result.count} parts`;
    answered();
  }, fail);
}

/** Show a part in the form. @param {number} index */
async function edit(index) {
  const part = parts()[index];
  editing = index;
  shown = isBudget(part) ? part : {};
  const { html } = await engine.ask("box_part", { part: shown, units: box.units });
  by("part-fields").innerHTML = html;
  by("part").hidden = false;
  by("part-title").textContent = nameOf(shown) || "A part";
  by("part").scrollIntoView({ block: "nearest" });
  by("box-name").focus();
}

/** What was typed goes into the box; the form follows what its kind asks for. */
async function typed() {
  const index = editing;
  const part = edited(form, { box: shown }).box ?? {};
  change({ ...box, parts: parts().with(index, part) });
  const result = await engine.latest("box_part", { part, units: box.units });
  if (!result || index !== editing) return;
  Idiomorph.morph(by("part-fields"), result.html, { morphStyle: "innerHTML", ignoreActiveValue: true });
  shown = part;
  by("part-title").textContent = nameOf(part) || "A part";
}

function close() {
  editing = -1;
  by("part").hidden = true;
}

/** @param {unknown} part @param {number} [at] */
function insert(part, at = parts().length) {
  change({ ...box, parts: parts().toSpliced(at, 0, part) });
  return edit(at);
}

/** Add the parts of a file; what is there already is not doubled. @param {any} found */
function add(found) {
  const units = found.units;
  const known = new Set(parts().map((part) => JSON.stringify(part)));
  /** @type {any[]} */
  const fresh = found.parts.filter((/** @type {unknown} */ part) => !known.has(JSON.stringify(part)));
  const next = parts().length ? box : { ...box, units };
  const said = [`${fresh.length} parts added`];
  if (fresh.length < found.parts.length) said.push(`${found.parts.length - fresh.length} were there already`);
  if (found.ignored.length) said.push(`columns left aside: ${found.ignored.join(", ")}`);
  if (found.problems.length) said.push(`not understood and kept as typed: ${found.problems.join(" ")}`);
  changeWithUndo({ ...next, parts: [...parts(), ...fresh] }, `${said.join("; ")}.`);
}

/** @type {Record<string, (index: number) => void | Promise<void>>} */
const doers = {
  add: () => insert({ kind: by("only").value || "servo", known_by: "weighed" }),
  edit,
  twin: (index) => insert({ ...parts()[index], name: `${nameOf(parts()[index])} copy`.trim() }, index + 1),
  drop: (index) => {
    const name = nameOf(parts()[index] ?? {}) || "The part";
    close();
    changeWithUndo({ ...box, parts: parts().toSpliced(index, 1) }, `“${name}” is out of the box.`);
  },
  close,
  starter: async () => {
    const answer = await fetch(new URL("demo/box.json", document.baseURI));
    add({ ...(await answer.json()), ignored: [], problems: [] });
    if (!box.about) change({ ...box, about: "With generic parts whose figures are invented: put your own in their place." });
  },
  clear: () => {
    close();
    changeWithUndo(empty(), "The box is empty.");
  },
  open: () => fileInput.click(),
  json: () => download(`${JSON.stringify(box, null, 1)}\n`, "box.json"),
  csv: async () => {
    const { text } = await engine.ask("box_csv", { box });
    download(text, "box.csv", "text/csv");
  },
};

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (button instanceof HTMLElement) Promise.resolve(doers[button.dataset.do ?? ""]?.(Number(button.dataset.index))).catch(fail);
});
form.addEventListener("input", () => typed().catch(fail));
form.addEventListener("submit", (event) => event.preventDefault());
by("only").addEventListener("change", table);
fileInput.addEventListener("change", async () => {
  const file = fileInput.files?.[0];
  fileInput.value = "";
  if (!file) return;
  try {
    add(await engine.ask("box_open", { text: await file.slice(0, FILE_MOST).text() }));
  } catch (error) {
    fail(error);
  }
});
store.onBoxChange(() => {
  box = store.box() ?? empty();
  close();
  table();
});
addEventListener("beforeunload", (event) => {
  if (store.onlyHere()) event.preventDefault();
});

by("box-tools").hidden = false;
table();
