/**
 * The page: form, storage, events. No sums and no units here; Python answers through the engine.
 *
 * One budget is shown at a time, in one of three ways: "example" (until it is changed), "own" (every change is kept on
 * this device) and "shared" (came by link; changes stay with the tab until a copy is kept). Until the first document is
 * shown it is "none": nothing can be typed, and nothing is kept. The state changes only once a document's form is shown.
 */
import * as address from "./address.mjs";
import * as choose from "./choose.mjs";
import { MOST_ROWS, calledOr, edited, nameOf, rowsOf, withPart, withRow, withRows } from "./document.mjs";
import { onDrop } from "./drop.mjs";
import { Engine, EngineError } from "./engine.mjs";
import * as first from "./firstform.mjs";
import { Held } from "./held.mjs";
import { copyName } from "./names.mjs";
import { keepSite } from "./offline.mjs";
import { PhoneAnswer } from "./phone.mjs";
import { Share } from "./share.mjs";
import * as show from "./show.mjs";
import { Stale } from "./stale.mjs";
import { StockForm } from "./stockform.mjs";
import * as store from "./store.mjs";
import { Undo } from "./undo.mjs";
import { Why } from "./why.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */
/** @typedef {{mode: "none" | "example" | "own" | "shared", id: string, fragment: string}} Place */

const root = document.documentElement;
const form = /** @type {HTMLFormElement} */ (document.getElementById("form"));
const fileInput = /** @type {HTMLInputElement} */ (document.getElementById("file"));
const FILE_MOST = 1_100_000; // bytes; Python refuses more than it reads, whatever the letters
const FOLLOWS = 400; // ms after an answer until the address has its link: browsers allow some three changes a second
const NOT_A_LINK = "This address ends like a link to a budget, but it is none: it was cut or changed on its way. Ask for it again, as a file if need be.";

const own = address.linkIn(location.hash) !== null || store.current() !== null; // else the page's example is what is open
/** @type {Place} */
const state = { mode: own ? "none" : "example", id: "", fragment: "" };
/** @type {Budget} the document as it was put into the form */
let shown = JSON.parse(form.dataset.document ?? "{}");
let turn = 0; // counts the documents that were asked for: an answer to an older one is not shown
/** @type {Promise<void>} */
let filed = Promise.resolve(); // until the last file that was chosen or dropped is opened
let answered = false;
let visit = `${Math.random()} 0`; // names the showing of one budget, until another one is entered
let answeredLink = ""; // the fragment of what was answered last, "" if it fits into none
let following = 0; // the timer until the address follows an edit of a shared budget
const held = new Held();
const why = new Why();
const stale = new Stale();

/** @returns {string} where the budget that is open is kept: its id, or the fragment that it came by; "" for an example */
const where = () => state.id || state.fragment;
/** @returns {string} the fragment that belongs into the address */
const rightFragment = () => (state.mode === "shared" ? state.fragment : "");
const undo = new Undo(where);
const phone = new PhoneAnswer(() => visit, rightFragment);

/** The budget that is open is kept at another place from now on. @param {Partial<Place>} place */
function moved(place) {
  const before = where();
  Object.assign(state, place);
  held.moved(before, where());
  undo.moved(before, where());
}

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
  const link = `${location.origin}${location.pathname}${result.link}`;
  show.answer(result, link);
  share.answered(result, result.link && link);
  stale.answered();
  answeredLink = result.link;
  followAddress();
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
  show.trouble(error instanceof Error ? error.message : String(error));
}

/** Answer what stands in the form. @returns {Promise<void>} once it is answered */
function refresh() {
  stale.asked();
  return answerForm();
}

/** @returns {Promise<void>} */
function answerForm() {
  const asked = turn;
  return engine.latest("answer", { document: current(), held: held.budget, why: why.parts }).then(
    (result) => {
      if (result !== null && asked === turn) put(result);
    },
    (error) => {
      if (asked === turn) stale.refused();
      fail(error);
    },
  );
}

/**
 * A budget that came by link was changed: the address becomes that of what stands in the form, so that whoever sends it
 * on sends that. Where that fits into no link, the address tells of none, and the changes stay with the tab all the same.
 */
function followAddress() {
  clearTimeout(following);
  if (state.mode !== "shared" || !store.sharedDraft(state.fragment)) return;
  following = window.setTimeout(() => {
    const fragment = answeredLink || address.LINK;
    const before = state.fragment;
    if (fragment === before) return;
    moved({ fragment });
    store.saveSharedDraft(fragment, current());
    store.moveSharedDraft(before, fragment);
    address.write(fragment);
  }, FOLLOWS);
}

/** Keep a budget where the state says. @param {Budget} budget */
function keep(budget) {
  if (state.mode === "none") return;
  if (state.mode === "shared") {
    show.kept(store.saveSharedDraft(state.fragment, budget) ? "tab" : "nowhere");
    followAddress();
    return;
  }
  if (state.mode === "example") {
    moved({ mode: "own", id: store.newId() });
  }
  if (store.changedElsewhere(state.id) && store.load(state.id)) {
    moved({ id: store.newId() }); // never over what another tab wrote: this one goes on beside it
    show.kept(store.save(state.id, budget) ? "beside" : "nowhere");
  } else show.kept(store.save(state.id, budget) ? "device" : "nowhere");
  show.mine(store.list(), state.id);
}

/**
 * Show another document in the form, with its answer. Until it is shown the form takes nothing: what is typed while it
 * is written anew would be lost. When that fails, what stood there stands there still.
 * @param {Budget} budget
 * @param {{fromUnits?: string, against?: Budget | null}} [more] the system of units in which its bare numbers were typed; what it is compared with, if not with what is held
 * @returns {Promise<boolean>} whether it is shown; not if another one was asked for meanwhile
 */
async function open(budget, { fromUnits, against = held.budget } = {}) {
  const mine = ++turn;
  form.inert = true;
  try {
    const result = await engine.ask("form", { document: budget, from_units: fromUnits, held: against, why: why.parts });
    if (mine !== turn) return false;
    show.form(form, result.form);
    shown = result.document;
    put(result);
    return true;
  } finally {
    if (mine === turn) form.inert = state.mode === "none" && !answered;
  }
}

/**
 * What a budget is compared with once it is shown. Of one that came by link the visitor may have one of the same name,
 * sent out and now come back: then that is held by itself, and let go when the other one is left.
 * @param {Place["mode"]} mode @param {Budget} budget @returns {{budget: Budget, place: string} | null} null: what the visitor holds, if anything
 */
function likeOf(mode, budget) {
  const id = mode === "shared" && !held.wasAsked ? store.named(nameOf(budget)) : null;
  const mine = id ? store.load(id) : null;
  return id && mine ? { budget: mine, place: id } : null;
}

/** Show a budget as the one worked on. @param {Partial<Place> & {mode: Place["mode"]}} place @param {Budget} budget */
async function enter(place, budget) {
  const like = likeOf(place.mode, budget);
  if (!(await open(budget, { against: like?.budget ?? (held.wasAsked ? held.budget : null) }))) return;
  clearTimeout(following);
  visit = `${visit.split(" ")[0]} ${turn}`;
  Object.assign(state, { id: "", fragment: "" }, place);
  held.left();
  if (like) held.holdUnasked(like.budget, like.place);
  else if (!held.wasAsked) held.letGo();
  if (state.mode !== "shared" && address.linkIn(location.hash)) address.write("");
  if (state.mode === "own") store.choose(state.id);
  show.sharedBanner(state.mode === "shared", nameOf(budget), like !== null);
  show.mine(store.list(), state.id);
  show.kept("");
  show.tools("all");
  undo.moved("", "elsewhere"); // which example it was is not known any more
  undo.show();
}

/** @returns {string[]} what the visitor's budgets are called */
const names = () => store.list().map(({ name }) => name);

/** @param {Budget} budget @returns {Budget} the same with a name that none of the visitor's budgets has */
function withOwnName(budget) {
  return names().includes(nameOf(budget)) ? { ...budget, name: copyName(nameOf(budget), names()) } : budget;
}

/** Keep a new budget and go on with it. @param {Budget} budget @param {string} [from] "link" if it came by one */
function begin(budget, from = "") {
  const id = store.newId();
  const done = store.save(id, budget, { from });
  return enter({ mode: "own", id }, budget).then(() => show.kept(done ? "device" : "nowhere"));
}

/** Open what the address holds: a shared budget. @returns {Promise<boolean>} whether it was one */
async function openAddress() {
  const asked = address.linkIn(location.hash);
  if (asked === null) return false;
  const fragment = store.sharedAt(asked);
  let budget = store.sharedDraft(fragment);
  let told = "";
  try {
    if (!budget) ({ document: budget, told } = await engine.ask("open_link", { fragment }));
  } catch (error) {
    if (error instanceof EngineError && error.code === "stopped") throw error;
    // A link of a newer edition can still open once this page is loaded anew; any other is of no use.
    const newer = error instanceof EngineError && error.code === "link_format";
    if (!newer) address.write("");
    if (state.mode === "none" || state.mode === "shared") await openOwn(newer);
    fail(error);
    return true;
  }
  await enter({ mode: "shared", fragment }, /** @type {Budget} */ (budget));
  show.sharedTold(told);
  address.write(rightFragment()); // as it is meant, whatever became of its signs
  return true;
}

/** Open the budget last worked on, or the example on the page. @param {boolean} [keepAddress] */
async function openOwn(keepAddress = false) {
  const fragment = location.hash;
  const id = store.current();
  const budget = id ? store.load(id) : null;
  if (id && budget) await enter({ mode: "own", id }, budget);
  else await openExample(form.dataset.first ?? "sedge-wren.json");
  if (keepAddress) address.write(fragment);
}

/** @param {string} file */
async function openExample(file) {
  await enter({ mode: "example" }, await choose.load(`demo:${file}`));
}

/** Delete the budget that is shown, with a way back. */
async function removeBudget() {
  if (state.mode !== "own") return;
  const { id } = state;
  const budget = current();
  const known = store.about(id);
  const others = store.list().filter((each) => each.id !== id);
  const next = others.at(-1)?.id;
  const other = next ? store.load(next) : null;
  if (next && other) await enter({ mode: "own", id: next }, other);
  else await openExample(form.dataset.first ?? "sedge-wren.json");
  if (state.id === id) return; // the other one could not be shown
  store.remove(id);
  show.mine(store.list(), state.id);
  const name = nameOf(budget) || "without a name";
  undo.addAnywhere(`“${name}” is deleted.`, async () => {
    const again = store.load(id) ? store.newId() : id; // another tab may have gone on with it
    store.save(again, budget, known);
    await enter({ mode: "own", id: again }, budget);
    show.done(`“${name}” is back.`);
  });
}

/** Put the held budget back where it was taken from, with a way back; into a new one if another is open by now. */
async function goBack() {
  const { budget } = held;
  if (!budget || state.mode === "none") return;
  if (!held.wasAsked) return enter({ mode: "own", id: held.place }, store.load(held.place) ?? budget);
  if (!held.isFrom(where())) return begin(withOwnName(budget));
  const before = current();
  if (!(await replace(budget))) return;
  show.focus("held-title");
  undo.add("The held budget is back.", async () => {
    if (await replace(before)) show.done("Your changes are back.");
  });
}

/** Show another state of the budget that is open, and keep it. @param {Budget} budget @returns {Promise<boolean>} whether it is shown */
async function replace(budget) {
  const done = await open(budget);
  if (done) keep(budget);
  return done;
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

/** Open a file as soon as those before it are opened. @param {File} file */
function takeFile(file) {
  filed = filed.then(() => openFile(file)).catch(fail);
}

/** Open a file, a budget or parts for the gear, which can be undone. @param {File} file */
async function openFile(file) {
  if (state.mode === "none") return;
  const text = await file.slice(0, FILE_MOST).text();
  const { before, document: budget, told, warned } = await readFile(text);
  if (!told) {
    await begin(budget);
    if (warned) show.trouble(warned);
    return;
  }
  if (!(await replace(budget))) return;
  undo.add(told, async () => {
    if (await replace({ ...current(), gear: before.gear, cell: before.cell })) show.done("The gear is as it was.");
  });
}

/**
 * Read what a file adds to the budget in the form; once more where something was typed while it was read.
 * @param {string} text @returns {Promise<{before: Budget, document: Budget, told: string, warned: string}>}
 */
async function readFile(text) {
  const before = current();
  const read = await engine.ask("open_any", { text, document: before }).catch((error) => {
    throw error.code === "stopped" ? new Error("The file was left aside: the sums stopped while it was read.") : error;
  });
  return JSON.stringify(current()) === JSON.stringify(before) ? { before, ...read } : readFile(text);
}

/** Begin with the newcomer's form; an airframe that cannot be read keeps it open. */
async function beginFirst() {
  const budget = first.budgetOf(show.dialogForm("first"));
  first.told(answered ? "" : "The sums are still starting; your answer follows.");
  try {
    const { problems } = await engine.ask("answer", { document: budget });
    first.problem(problems["model.airframe"] ?? "");
    if (problems["model.airframe"] || !show.isDialogOpen("first")) return;
    show.dialog("first", false);
    await begin(budget);
  } finally {
    first.told("");
  }
  phone.open();
  show.focus("answer");
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
    const budget = current();
    await begin(withOwnName(budget), "link");
    store.dropSharedDraft(fragment);
  },
  leave: () => openOwn(),
  new: () => begin({ format: 1, name: "New budget", gear: [{ kind: "receiver" }, { kind: "servo" }] }),
  copy: () => {
    const budget = current();
    return begin({ ...budget, name: copyName(nameOf(budget), names()) });
  },
  delete: removeBudget,
  undo: () => undo.run(),
  "undo-close": () => undo.dismiss(),
  hold: async () => {
    if (state.mode === "none") return;
    held.hold(current(), where());
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
  "first-go": beginFirst,
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
  bar: () => phone.toggle(),
  again: async () => {
    engine.restart();
    if (state.mode === "none") await openFirst();
    else await refresh();
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
    if (!(await replace(changed))) return;
    const path = boxPath;
    undo.add(`“${calledOr(part, "The part")}” was taken from the box.`, async () => {
      if (await replace(withPart(current(), path, before))) show.done("The row is as it was.");
    });
    document.getElementById(boxPath === "cell" ? "cell-take" : `${boxPath.replace(".", "-")}-take`)?.focus();
  },
  "box-put": async (button) => {
    const { part } = await engine.ask("box_put", { document: current(), path: pathOf(button) });
    const box = store.box() ?? { format: 1, name: "My box", units: "metric", parts: [] };
    const parts = Array.isArray(box.parts) ? box.parts : [];
    const same = parts.findIndex((each) => each?.kind === part.kind && nameOf(each) === nameOf(part));
    const kept = store.saveBox({ ...box, parts: same < 0 ? [...parts, part] : parts.with(same, part) });
    const what = `“${calledOr(part, "The part")}” is in the box${same < 0 ? "" : ", in place of the part of that name"}`;
    show.done(kept ? `${what}.` : "This browser does not keep the box: its store is full or closed.");
  },
  "box-close": () => show.boxDialog(""),
  "usual-draw": async ({ dataset: { path = "" } }) => {
    const before = current();
    const { document: changed } = await engine.ask("usual_draw", { document: before, path });
    if (!(await replace(changed))) return;
    undo.add("The usual draw stands in, marked as a guess.", async () => {
      if (await replace(withPart(current(), path, before))) show.done("The row is as it was.");
    });
    show.goTo(`${path.replace(".", "-")}-draw`);
  },
  go: ({ dataset: { to = "" } }) => {
    if (document.body.classList.contains("answer-open")) phone.toggle();
    show.goTo(to);
  },
};

/** Add, move or remove a row, and keep the focus where the hand is. @param {HTMLElement} button */
async function changeRows(button) {
  const what = /** @type {"row-add" | "row-up" | "row-down" | "row-remove"} */ (button.dataset.do);
  const index = Number(button.dataset.row ?? 0);
  const before = current();
  const gone = rowsOf(before)[index];
  if (what === "row-add" && rowsOf(before).length >= MOST_ROWS) return;
  const changed = withRows(before, what, index);
  if (!(await replace(changed))) return;
  show.focusRow(what, index, Math.min(changed.gear.length, MOST_ROWS));
  if (what !== "row-remove") return;
  undo.add(`“${calledOr(gone, "The row")}” is removed.`, async () => {
    if (!(await replace(withRow(current(), index, gone)))) return;
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
  const spoiled = address.isSpoiled(location.hash);
  if (!(await openAddress())) await openOwn();
  if (spoiled) refuseAddress();
}

/** Say that the address holds no link, and let it be that of what is shown. */
function refuseAddress() {
  address.write(rightFragment());
  show.trouble(NOT_A_LINK);
}

form.addEventListener("input", (event) => {
  if (form.inert) return;
  // Another system of units changes every field's unit: the form is written anew, and each bare number keeps its unit.
  if (event.target instanceof HTMLSelectElement && event.target.name === "units") {
    const { target } = event;
    const before = [...target.options].find((option) => option.defaultSelected)?.value;
    open(current(), { fromUnits: before }).then((done) => done && keep(shown), (error) => {
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
  if (button instanceof HTMLAnchorElement) event.preventDefault(); // the address is for what a link holds
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
  if (file) takeFile(file);
});
onDrop(/** @type {HTMLElement} */ (document.getElementById("drop-hint")), takeFile);
addEventListener("hashchange", () => {
  const { hash } = location;
  if (hash === rightFragment()) return; // the answer of a phone was closed: nothing else is to be shown
  if (address.linkIn(hash)) openAddress().catch(fail);
  else if (address.isSpoiled(hash)) refuseAddress();
  else if (address.isPlace(hash)) address.write(rightFragment()); // only a step within the page
  else if (state.mode === "shared") openOwn().catch(fail);
});
store.onChange((id) => follow(id).catch(fail));
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") follow(state.id).catch(fail); // a sleeping tab hears of no change
});
addEventListener("beforeunload", (event) => {
  if (store.onlyHere()) event.preventDefault();
});

first.watch(show.dialogForm("first"));
root.classList.add("js");
root.dataset.runs = "";
/** @type {HTMLFieldSetElement} */ (document.getElementById("form-gate")).disabled = false;
show.mine(store.list(), store.current() ?? "");
show.damaged(store.damaged().length);
if (own) {
  form.inert = true;
  show.tools("out");
  stale.opening();
  openFirst().catch(fail);
} else {
  show.tools("all");
  const spoiled = address.isSpoiled(location.hash);
  answerForm().then(() => spoiled && refuseAddress()); // told after the answer's own problems
}
