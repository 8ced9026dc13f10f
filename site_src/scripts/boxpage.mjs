/** The page of the box: a table of parts, one of them in the form; every change is kept at once. No sums here. */
import * as choose from "./choose.mjs";
import { edited, isBudget, nameOf } from "./document.mjs";
import { answered, by, fail, offer, startEngine, tell } from "./pageengine.mjs";
import { download } from "./show.mjs";
import * as store from "./store.mjs";
import { Idiomorph } from "idiomorph";

/** @typedef {import("./document.mjs").Budget} Budget */

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

/** Keep the box, and show it. @param {Budget} next */
function change(next) {
  box = next;
  if (!store.saveBox(box)) tell("This browser does not keep the box (its store is full or closed): save it as a file.");
  table();
}

/** Change the parts, with a way back that leaves alone what was changed since. @param {any[]} next @param {string} text @param {() => any[]} back the parts without this change */
function changeWithUndo(next, text, back) {
  close();
  change({ ...box, parts: next });
  offer(text, "Undo", () => {
    close();
    change({ ...box, parts: back() });
    tell("Undone.");
  });
}

/** Show the table. */
function table() {
  by("csv").disabled = by("json").disabled = by("clear").disabled = parts().length === 0;
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
  const known = new Set(parts().map((part) => JSON.stringify(part)));
  /** @type {any[]} */
  const fresh = found.parts.filter((/** @type {unknown} */ part) => !known.has(JSON.stringify(part)));
  if (!parts().length) box = { ...box, units: found.units };
  const said = [`${fresh.length} part${fresh.length === 1 ? "" : "s"} added`];
  const there = found.parts.length - fresh.length;
  if (there) said.push(`${there} ${there === 1 ? "was" : "were"} there already`);
  if (found.ignored.length) said.push(`columns left aside: ${found.ignored.join(", ")}`);
  if (found.problems.length) said.push(`not understood and kept as typed: ${found.problems.join(" ")}`);
  changeWithUndo([...parts(), ...fresh], `${said.join("; ")}.`, () => parts().filter((part) => !fresh.includes(part)));
}

/** @type {Record<string, (index: number) => void | Promise<void>>} */
const doers = {
  add: () => insert({ kind: by("only").value || "servo", known_by: "weighed" }),
  edit,
  twin: (index) => insert({ ...parts()[index], name: `${nameOf(parts()[index])} copy`.trim() }, index + 1),
  drop: (index) => {
    const part = parts()[index];
    const name = nameOf(part ?? {}) || "The part";
    changeWithUndo(parts().toSpliced(index, 1), `“${name}” is out of the box.`, () => parts().toSpliced(index, 0, part));
  },
  close,
  starter: async () => {
    add({ ...(await choose.starterBox()), ignored: [], problems: [] });
    if (!box.about) change({ ...box, about: "With generic parts whose figures are invented: put your own in their place." });
  },
  clear: () => {
    const before = parts();
    changeWithUndo([], "The box is empty.", () => [...before, ...parts()]);
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
    add(await engine.ask("box_open", { text: await file.slice(0, FILE_MOST).text(), units: parts().length ? box.units ?? "metric" : undefined }));
  } catch (error) {
    fail(error);
  }
});
/** Another tab changed the box; show its state. */
function follow() {
  const there = store.box();
  if (JSON.stringify(there ?? empty()) === JSON.stringify(box)) return;
  box = there ?? empty();
  close();
  table();
}

store.onBoxChange(follow);
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") follow(); // a sleeping tab hears of no change
});
addEventListener("beforeunload", (event) => {
  if (store.onlyHere()) event.preventDefault();
});

by("box-tools").hidden = false;
table();
