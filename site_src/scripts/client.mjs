/**
 * The page: form, storage, events. No sums and no units here; Python answers through the engine.
 *
 * One budget is shown at a time, in one of three ways: "example" (until it is changed), "own" (every change is kept on
 * this device) and "shared" (came by link; changes stay with the tab until a copy is kept). Until the first document is
 * shown it is "none": nothing can be typed, and nothing is kept. The state changes only once a document's form is shown.
 */
import * as choose from "./choose.mjs";
import { MOST_ROWS, edited, nameOf, rowsOf, withRow, withRows } from "./document.mjs";
import { onDrop } from "./drop.mjs";
import { Engine, EngineError } from "./engine.mjs";
import { budgetOf } from "./firstform.mjs";
import { Held } from "./held.mjs";
import { keepSite } from "./offline.mjs";
import { Share } from "./share.mjs";
import * as show from "./show.mjs";
import { StockForm } from "./stockform.mjs";
import * as store from "./store.mjs";
import { Why } from "./why.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */
/** @typedef {{mode: "none" | "example" | "own" | "shared", id: string, fragment: string}} Place */

const root = document.documentElement;
const form = /** @type {HTMLFormElement} */ (document.getElementById("form"));
const fileInput = /** @type {HTMLInputElement} */ (document.getElementById("file"));
const SHARED = "#b=";
const FILE_MOST = 1_100_000; // bytes; Python refuses more than it reads, whatever the letters

const own = location.hash.startsWith(SHARED) || store.current() !== null; // else the page's example is what is open
/** @type {Place} */
const state = { mode: own ? "none" : "example", id: "", fragment: "" };
/** @type {Budget} the document as it was put into the form */
let shown = JSON.parse(form.dataset.document ?? "{}");
let turn = 0; // counts the documents that were asked for: an answer to an older one is not shown
let answered = false;
const held = new Held();
const why = new Why();
/** @type {(() => void | Promise<void>) | null} */
let bringBack = null;

const engine = new Engine((notice) => {
  if (notice.event === "stage") show.engineStage(notice.text, state.mode !== "none");
  else if (notice.event === "failed") show.engineFailed(notice.text);
  else if (notice.event === "late") show.engineLate();
});

/** @returns {Budget} what stands in the form */
const current = () => edited(form, shown);

const share = new Share(engine, () => (state.mode === "none" ? null : current()), !own);

/** Show an answer, and note when the first one is on the page. @param {any} result */
function put(result) {
  const address = `${location.origin}${location.pathname}${result.link}`;
  show.answer(result, address);
  share.answered(result, result.link && address);
  show.engineReady();
  if (!answered) {
    answered = true;
    performance.mark("answer");
    keepSite();
  }
}

/** @param {unknown} error */
function fail(error) {
  if (error instanceof EngineError && error.code === "stopped") return; // the engine's own line says it
  show.trouble(error instanceof EngineError ? error.message : String(error));
}

/** Answer what stands in the form. @returns {Promise<void>} once it is answered */
function refresh() {
  const asked = turn;
  return engine.latest("answer", { document: current(), held: held.budget, why: why.parts }).then((result) => {
    if (result !== null && asked === turn) put(result);
  }, fail);
}

/** Keep a budget where the state says. @param {Budget} budget */
function keep(budget) {
  if (state.mode === "none") return;
  if (state.mode === "shared") {
    show.kept(store.saveSharedDraft(state.fragment, budget) ? "tab" : "nowhere");
    return;
  }
  if (state.mode === "example") {
    Object.assign(state, { mode: "own", id: store.newId() });
    held.keptAs(state.id);
  }
  if (store.changedElsewhere(state.id) && store.load(state.id)) {
    state.id = store.newId(); // never over what another tab wrote: this one goes on beside it
    show.kept(store.save(state.id, budget) ? "beside" : "nowhere");
  } else show.kept(store.save(state.id, budget) ? "device" : "nowhere");
  show.mine(store.list(), state.id);
}

/**
 * Show another document in the form, with its answer. Until it is shown the form takes nothing: what is typed while it
 * is written anew would be lost. When that fails, what stood there stands there still.
 * @param {Budget} budget @param {string} [fromUnits] the system of units in which its bare numbers were typed
 * @returns {Promise<boolean>} whether it is shown; not if another one was asked for meanwhile
 */
async function open(budget, fromUnits) {
  const mine = ++turn;
  form.inert = true;
  try {
    const result = await engine.ask("form", { document: budget, from_units: fromUnits, held: held.budget, why: why.parts });
    if (mine !== turn) return false;
    show.form(form, result.form);
    shown = result.document;
    put(result);
    return true;
  } finally {
    if (mine === turn) form.inert = state.mode === "none" && !answered;
  }
}

/** Show a budget as the one worked on. @param {Partial<Place> & {mode: Place["mode"]}} place @param {Budget} budget */
async function enter(place, budget) {
  if (!(await open(budget))) return;
  Object.assign(state, { id: "", fragment: "" }, place);
  held.left();
  if (state.mode !== "shared" && location.hash.startsWith(SHARED)) history.replaceState(null, "", location.pathname + location.search);
  if (state.mode === "own") store.choose(state.id);
  show.sharedBanner(state.mode === "shared", nameOf(budget));
  show.mine(store.list(), state.id);
  show.kept("");
  show.trouble("");
  show.tools("all");
  bringBack = null;
}

/** Keep a new budget and go on with it. @param {Budget} budget */
function begin(budget) {
  const id = store.newId();
  const done = store.save(id, budget);
  return enter({ mode: "own", id }, budget).then(() => show.kept(done ? "device" : "nowhere"));
}

/** Open what the address holds: a shared budget. @returns {Promise<boolean>} whether it was one */
async function openAddress() {
  const fragment = location.hash;
  if (!fragment.startsWith(SHARED)) return false;
  let budget = store.sharedDraft(fragment);
  try {
    budget ??= (await engine.ask("open_link", { fragment })).document;
  } catch (error) {
    if (error instanceof EngineError && error.code === "stopped") throw error;
    // A link of a newer edition can still open once this page is loaded anew; any other is of no use.
    const newer = error instanceof EngineError && error.code === "link_format";
    if (!newer) history.replaceState(null, "", location.pathname + location.search);
    if (state.mode === "none" || state.mode === "shared") await openOwn(newer);
    fail(error);
    return true;
  }
  await enter({ mode: "shared", fragment }, /** @type {Budget} */ (budget));
  return true;
}

/** Open the budget last worked on, or the example on the page. @param {boolean} [keepAddress] */
async function openOwn(keepAddress = false) {
  const fragment = location.hash;
  const id = store.current();
  const budget = id ? store.load(id) : null;
  if (id && budget) await enter({ mode: "own", id }, budget);
  else await openExample(form.dataset.first ?? "sedge-wren.json");
  if (keepAddress) history.replaceState(null, "", fragment);
}

/** @param {string} file */
async function openExample(file) {
  await enter({ mode: "example" }, await choose.load(`demo:${file}`));
}

/** Offer to undo. @param {string} text @param {() => void | Promise<void>} act @param {string} [way] */
function offer(text, act, way) {
  bringBack = act;
  show.undo(text, way);
}

/** Delete the budget that is shown, with a way back. */
async function removeBudget() {
  if (state.mode !== "own") return;
  const { id } = state;
  const budget = current();
  const others = store.list().filter((each) => each.id !== id);
  const next = others.at(-1)?.id;
  const other = next ? store.load(next) : null;
  if (next && other) await enter({ mode: "own", id: next }, other);
  else await openExample(form.dataset.first ?? "sedge-wren.json");
  if (state.id === id) return; // the other one could not be shown
  store.remove(id);
  show.mine(store.list(), state.id);
  const name = nameOf(budget) || "without a name";
  offer(`“${name}” is deleted.`, async () => {
    store.save(id, budget);
    await enter({ mode: "own", id }, budget);
    show.done(`“${name}” is back.`);
  });
}

/** Put the held budget back where it was taken from, with a way back; into a new one if another is open by now. */
async function goBack() {
  const { budget } = held;
  if (!budget || state.mode === "none") return;
  if (!held.isFrom(state.id || state.fragment)) return begin(budget);
  const before = current();
  if (!(await open(budget))) return;
  keep(budget);
  const place = { ...state };
  show.focus("held-title");
  offer("The held budget is back.", async () => {
    if (state.id !== place.id || state.fragment !== place.fragment || !(await open(before))) return;
    keep(before);
    show.done("Your changes are back.");
  });
}

/** @param {Budget} budget @returns {string} a name for a file of it */
function fileName(budget) {
  const name = nameOf(budget).replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").toLowerCase();
  return name.slice(0, 60) || "budget";
}

/** Save the text of a budget as a file; needs no sums, so that work can be taken out of a page whose sums failed. */
function saveFile() {
  const chosen = state.mode === "none" ? store.load(show.chosen()) : current();
  if (chosen) show.download(`${JSON.stringify({ format: 1, ...chosen }, null, 1)}\n`, `${fileName(chosen)}.json`);
}

/** Open a file, a budget or parts for the gear, which can be undone. @param {File} file */
async function takeFile(file) {
  if (state.mode === "none") return;
  const before = current();
  const text = await file.slice(0, FILE_MOST).text();
  const { document: budget, told } = await engine.ask("open_any", { text, document: before });
  if (!told) return begin(budget);
  const place = { ...state };
  if (!(await open(budget))) return;
  keep(budget);
  place.id ||= state.id; // an example becomes the visitor's own by this
  offer(told, async () => {
    if (state.id !== place.id || state.fragment !== place.fragment || !(await open(before))) return;
    keep(before);
    show.done("The gear is as it was.");
  }, "Undo");
}

/** Show how a number comes about that was clicked. @param {Element} target */
async function showWhy(target) {
  const asked = answered ? why.asked(target) : null;
  if (!asked) return;
  await refresh();
  Why.show(asked);
}

const stockForm = new StockForm(show.dialogForm("stock"), engine, () => show.fieldText("units"));
let stockRow = "0";
let boxPath = "cell"; // the place that takes a part of the box

/** @param {HTMLElement} button @returns {string} the place that it belongs to, as a path of the budget */
const pathOf = ({ dataset: { row } }) => (row === "cell" ? "cell" : `gear.${row}`);

/** @type {Record<string, (button: HTMLElement) => void | Promise<void>>} */
const doers = {
  keep: async () => {
    const { fragment } = state;
    await begin(current());
    store.dropSharedDraft(fragment);
  },
  leave: () => openOwn(),
  new: () => begin({ format: 1, name: "New budget", gear: [{ kind: "receiver" }, { kind: "servo" }] }),
  copy: () => {
    const budget = current();
    return begin({ ...budget, name: `${nameOf(budget)} copy`.trim() });
  },
  delete: removeBudget,
  undo: async () => {
    const act = bringBack;
    bringBack = null;
    await act?.();
  },
  hold: async () => {
    if (state.mode === "none") return;
    held.hold(current(), state.id || state.fragment);
    await refresh();
    show.focus("held-title");
  },
  "let-go": async () => {
    held.letGo();
    await refresh();
    show.focus("hold");
  },
  "held-back": goBack,
  why: ({ dataset: { part = "" } }) => {
    why.toggle(part);
    return refresh();
  },
  first: () => show.dialog("first", true),
  "first-close": () => show.dialog("first", false),
  "first-go": async () => {
    const budget = budgetOf(show.dialogForm("first"));
    show.dialog("first", false);
    await begin(budget);
    show.openAnswer();
  },
  "save-file": saveFile,
  "save-csv": async () => {
    const budget = current();
    const { text } = await engine.ask("gear_csv", { document: budget });
    show.download(text, `${fileName(budget)}-gear.csv`, "text/csv");
  },
  "open-file": () => fileInput.click(),
  "copy-link": show.copyLink,
  qr: () => share.toggle(),
  share: () => share.share(),
  print: () => share.print(),
  bar: show.toggleAnswer,
  again: async () => {
    engine.restart();
    if (state.mode === "none") await openFirst();
    else refresh();
  },
  "damaged-save": () => {
    for (const { id, text } of store.damaged()) show.download(text, `unreadable-${id}.txt`);
  },
  "damaged-remove": () => {
    for (const { id } of store.damaged()) store.remove(id);
    show.damaged(0);
  },
  stock: (button) => {
    stockRow = button.dataset.row ?? "0";
    show.dialog("stock", true);
    return stockForm.refresh();
  },
  "stock-use": () => {
    const { mass, name } = stockForm.weighed;
    if (!mass) return;
    show.intoRow(stockRow, mass, name);
    show.dialog("stock", false);
    keep(current());
    refresh();
  },
  "stock-close": () => show.dialog("stock", false),
  "box-take": async (button) => {
    boxPath = pathOf(button);
    const kind = boxPath === "cell" ? "cell" : rowsOf(current())[Number(button.dataset.row)]?.kind ?? "other";
    const { html } = await engine.ask("box", { box: await choose.box(), kind, pick: true });
    show.boxDialog(html);
  },
  "box-use": async (button) => {
    const box = await choose.box();
    const part = Array.isArray(box.parts) ? box.parts[Number(button.dataset.index)] : undefined;
    const before = current();
    const { document: changed } = await engine.ask("box_take", { document: before, part, path: boxPath, units: box.units });
    show.boxDialog("");
    if (!(await open(changed))) return;
    keep(changed);
    document.getElementById(boxPath === "cell" ? "cell-take" : `${boxPath.replace(".", "-")}-take`)?.focus();
  },
  "box-put": async (button) => {
    const { part } = await engine.ask("box_put", { document: current(), path: pathOf(button) });
    const box = store.box() ?? { format: 1, name: "My box", units: "metric", parts: [] };
    const parts = Array.isArray(box.parts) ? box.parts : [];
    const same = parts.findIndex((each) => each?.kind === part.kind && nameOf(each) === nameOf(part));
    const kept = store.saveBox({ ...box, parts: same < 0 ? [...parts, part] : parts.with(same, part) });
    const what = `“${nameOf(part) || part.kind}” is in the box${same < 0 ? "" : ", in place of the part of that name"}`;
    show.done(kept ? `${what}.` : "This browser does not keep the box: its store is full or closed.");
  },
  "box-close": () => show.boxDialog(""),
};

/** Add, move or remove a row, and keep the focus where the hand is. @param {HTMLElement} button */
async function changeRows(button) {
  const what = /** @type {"row-add" | "row-up" | "row-down" | "row-remove"} */ (button.dataset.do);
  const index = Number(button.dataset.row ?? 0);
  const before = current();
  const gone = rowsOf(before)[index];
  if (what === "row-add" && rowsOf(before).length >= MOST_ROWS) return;
  const changed = withRows(before, what, index);
  if (!(await open(changed))) return;
  keep(changed);
  show.focusRow(what, index, Math.min(changed.gear.length, MOST_ROWS));
  if (what !== "row-remove") return;
  const place = { ...state };
  offer(`“${nameOf(gone ?? {}) || gone?.kind || "The row"}” is removed.`, async () => {
    if (state.id !== place.id || state.fragment !== place.fragment) return;
    const restored = withRow(current(), index, gone);
    if (!(await open(restored))) return;
    keep(restored);
    show.focusRow("row-add", index, index + 1);
  });
}

/** Another tab changed the budgets; show its state of the one that is open here. @param {string} id */
async function follow(id) {
  if (state.mode === "own" && id === state.id && store.changedElsewhere(id)) {
    const budget = store.load(id);
    if (budget && (await open(budget))) show.done("Changed in another tab or window; this is the newest state.");
    else if (!budget) show.done("Deleted in another tab or window. Change anything here, and it is kept again.");
  }
  show.mine(store.list(), state.id);
}

/** Open what the page is to begin with. */
async function openFirst() {
  if (!(await openAddress())) await openOwn();
}

form.addEventListener("input", (event) => {
  if (form.inert) return;
  // Another system of units changes every field's unit: the form is written anew, and each bare number keeps its unit.
  if (event.target instanceof HTMLSelectElement && event.target.name === "units") {
    const { target } = event;
    const before = [...target.options].find((option) => option.defaultSelected)?.value;
    open(current(), before).then((done) => done && keep(shown), (error) => {
      target.value = before ?? ""; // the numbers in the form are still of the old one
      fail(error);
    });
    return;
  }
  keep(current());
  refresh();
});
form.addEventListener("submit", (event) => event.preventDefault());
document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return event.target instanceof Element ? showWhy(event.target) : undefined;
  const what = button.dataset.do ?? "";
  Promise.resolve(what.startsWith("row-") ? changeRows(button) : doers[what]?.(button)).catch(fail);
});
show.onChoice("mine", (id) => {
  const budget = store.load(id);
  if (!budget || root.dataset.engine === "failed") return; // then it can be saved as a file
  enter({ mode: "own", id }, budget).catch((error) => {
    show.mine(store.list(), state.id);
    fail(error);
  });
});
show.onChoice("examples", (file) => openExample(file).catch(fail));
fileInput.addEventListener("change", () => {
  const file = fileInput.files?.[0];
  fileInput.value = "";
  if (file) takeFile(file).catch(fail);
});
onDrop(/** @type {HTMLElement} */ (document.getElementById("drop-hint")), (file) => takeFile(file).catch(fail));
addEventListener("hashchange", () => {
  if (location.hash.startsWith(SHARED)) openAddress().catch(fail);
  else if (state.mode === "shared") openOwn().catch(fail);
});
store.onChange((id) => follow(id).catch(fail));
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") follow(state.id).catch(fail); // a sleeping tab hears of no change
});
addEventListener("beforeunload", (event) => {
  if (store.onlyHere()) event.preventDefault();
});

root.classList.add("js");
show.mine(store.list(), store.current() ?? "");
show.damaged(store.damaged().length);
if (own) {
  form.inert = true;
  show.tools("none");
  openFirst().catch(fail);
} else {
  show.tools("all");
  refresh();
}
