/**
 * The page: form, storage, events. No sums and no units here; Python answers through the engine.
 *
 * One budget is shown at a time, in one of three ways: "example" (until it is changed), "own" (every change is kept on
 * this device) and "shared" (came by link; changes stay with the tab until a copy is kept).
 */
import { collect, withRows } from "./document.mjs";
import { Engine, EngineError } from "./engine.mjs";
import { keepSite } from "./offline.mjs";
import * as show from "./show.mjs";
import { StockForm } from "./stockform.mjs";
import * as store from "./store.mjs";

/** @typedef {{[key: string]: any}} Budget */

const root = document.documentElement;
const form = /** @type {HTMLFormElement} */ (document.getElementById("form"));
const fileInput = /** @type {HTMLInputElement} */ (document.getElementById("file"));
const SHARED = "#b=";

/** @type {{mode: "example" | "own" | "shared", id: string, fragment: string}} */
const state = { mode: "example", id: "", fragment: "" };
let answered = false;
/** @type {{id: string, budget: Budget} | null} */
let removed = null;

const engine = new Engine((notice) => {
  if (notice.event === "stage") show.engineStage(notice.text);
  else if (notice.event === "failed") show.engineFailed(notice.text);
});

/** Show an answer, and note when the first one is on the page. @param {any} result */
function put(result) {
  if (result === null) return;
  show.answer(result, `${location.origin}${location.pathname}${result.link}`);
  if (!answered) {
    answered = true;
    root.dataset.engine = "ready";
    show.engineReady();
    performance.mark("answer");
    keepSite();
  }
}

/** @param {unknown} error */
function fail(error) {
  show.trouble(error instanceof EngineError ? error.message : String(error));
}

/** Answer what stands in the form. */
function refresh() {
  engine.latest("answer", { document: collect(form) }).then(put, fail);
}

/** Keep what stands in the form, where its mode says. @param {Budget} budget */
function keep(budget) {
  if (state.mode === "shared") {
    store.saveSharedDraft(state.fragment, budget);
    return;
  }
  if (state.mode === "example") Object.assign(state, { mode: "own", id: store.newId() });
  show.kept(store.save(state.id, budget));
  show.mine(store.list(), state.id);
}

/** Show another document in the form, and its answer. @param {Budget} budget */
async function open(budget) {
  form.inert = true; // what is typed while the form is written anew would be lost
  try {
    const result = await engine.ask("form", { document: budget });
    show.form(form, result.form);
    put(result);
  } catch (error) {
    fail(error);
  } finally {
    form.inert = false;
  }
}

/** @param {"example" | "own" | "shared"} mode @param {Budget} budget @param {string} [id] */
async function enter(mode, budget, id = "") {
  Object.assign(state, { mode, id });
  if (mode !== "shared") {
    state.fragment = "";
    if (location.hash.startsWith(SHARED)) history.replaceState(null, "", location.pathname + location.search);
  }
  if (mode === "own") store.choose(id);
  show.sharedBanner(mode === "shared", String(budget.name ?? ""));
  show.mine(store.list(), id);
  show.trouble("");
  await open(budget);
}

/** Open what the address holds: a shared budget. @returns {Promise<boolean>} whether it was one */
async function openAddress() {
  const fragment = location.hash;
  if (!fragment.startsWith(SHARED)) return false;
  try {
    const { document: budget } = await engine.ask("open_link", { fragment });
    state.fragment = fragment;
    await enter("shared", store.sharedDraft(fragment) ?? budget);
    return true;
  } catch (error) {
    history.replaceState(null, "", location.pathname + location.search);
    await openOwn();
    fail(error);
    return true;
  }
}

/** Open the budget last worked on, or the example on the page. */
async function openOwn() {
  const id = store.current() ?? store.list().at(-1)?.id;
  const budget = id ? store.load(id) : null;
  if (id && budget) await enter("own", budget, id);
  else await openExample(form.dataset.first ?? "sedge-wren.json");
}

/** @param {string} file */
async function openExample(file) {
  const answer = await fetch(new URL(`demo/${file}`, document.baseURI));
  await enter("example", await answer.json());
}

const stockForm = new StockForm(show.stockForm(), engine, () => show.fieldText("units"));
let stockRow = "0";

/** @type {Record<string, (button: HTMLElement) => void | Promise<void>>} */
const doers = {
  keep: () => {
    const budget = collect(form);
    const id = store.newId();
    show.kept(store.save(id, budget));
    return enter("own", budget, id);
  },
  leave: openOwn,
  new: () => enter("own", { format: 1, name: "New budget", gear: [{ kind: "receiver" }, { kind: "servo" }] }, store.newId()),
  copy: () => {
    const budget = collect(form);
    const id = store.newId();
    const copy = { ...budget, name: `${budget.name ?? ""} copy`.trim() };
    show.kept(store.save(id, copy));
    return enter("own", copy, id);
  },
  delete: async () => {
    if (state.mode !== "own") return;
    const gone = { id: state.id, budget: collect(form) };
    store.remove(state.id);
    await openOwn();
    removed = gone;
    show.undo(String(gone.budget.name ?? ""));
  },
  undo: async () => {
    if (!removed) return;
    store.save(removed.id, removed.budget);
    await enter("own", removed.budget, removed.id);
    removed = null;
  },
  "save-file": async () => {
    const budget = collect(form);
    const { text } = await engine.ask("save_file", { document: budget });
    show.download(text, `${String(budget.name || "budget").replace(/[^\p{L}\p{N}]+/gu, "-").toLowerCase()}.json`);
  },
  "open-file": () => fileInput.click(),
  "copy-link": show.copyLink,
  bar: show.toggleAnswer,
  stock: (button) => {
    stockRow = button.dataset.row ?? "0";
    show.stockDialog(true);
    return stockForm.refresh();
  },
  "stock-use": () => {
    const { mass, name } = stockForm.weighed;
    if (!mass) return;
    show.intoRow(stockRow, mass, name);
    show.stockDialog(false);
    keep(collect(form));
    refresh();
  },
  "stock-close": () => show.stockDialog(false),
};

/** Add, move or remove a row, and keep the focus where the hand is. @param {HTMLElement} button */
async function changeRows(button) {
  const what = /** @type {"row-add" | "row-up" | "row-down" | "row-remove"} */ (button.dataset.do);
  const index = Number(button.dataset.row ?? 0);
  const changed = withRows(collect(form), what, index);
  keep(changed);
  await open(changed);
  show.focusRow(what, index, changed.gear.length);
}

form.addEventListener("input", () => {
  keep(collect(form));
  if (!form.inert) refresh();
});
form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("change", (event) => {
  // Another system of units changes every field's unit and default: the form is written anew.
  if (event.target instanceof HTMLSelectElement && event.target.name === "units") open(collect(form));
});
document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  const what = button.dataset.do ?? "";
  Promise.resolve(what.startsWith("row-") ? changeRows(button) : doers[what]?.(button)).catch(fail);
});
show.onChoice("mine", (id) => {
  const budget = store.load(id);
  if (budget) enter("own", budget, id).catch(fail);
});
show.onChoice("examples", (file) => openExample(file).catch(fail));
fileInput.addEventListener("change", async () => {
  const file = fileInput.files?.[0];
  fileInput.value = "";
  if (!file) return;
  try {
    const { document: budget } = await engine.ask("open_file", { text: await file.slice(0, 400_000).text() });
    const id = store.newId();
    show.kept(store.save(id, budget));
    await enter("own", budget, id);
  } catch (error) {
    fail(error);
  }
});
addEventListener("hashchange", () => openAddress().catch(fail));

root.classList.add("js");
show.tools();
const waiting = location.hash.startsWith(SHARED) || store.current() !== null;
form.inert = waiting;
show.mine(store.list(), store.current() ?? "");
if (waiting) openAddress().then((done) => (done ? undefined : openOwn())).catch(fail);
else refresh();
