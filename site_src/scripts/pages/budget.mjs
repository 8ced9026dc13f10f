/**
 * The budget page: its parts, each with what it does, put together. No sums and no units here; Python answers through
 * the engine.
 */
import * as address from "../page/address.mjs";
import { copyLink } from "../page/answer.mjs";
import { by } from "../page/dom.mjs";
import { askBeforeLeaving, onDo } from "../page/events.mjs";
import { goTo } from "../page/focus.mjs";
import { BudgetForm } from "../page/form.mjs";
import { Held } from "../page/held.mjs";
import { forgetLast, keeper, showLast } from "../page/last.mjs";
import { watchMenus } from "../page/menus.mjs";
import { PhoneAnswer } from "../page/phone.mjs";
import { Share } from "../page/share.mjs";
import { budgets } from "../page/store/budgets.mjs";
import { watchSubjects } from "../page/subjects.mjs";
import { showTools } from "../page/toolbar.mjs";
import { Undo } from "../page/undo.mjs";
import { AirframeParts } from "./budget/airframe.mjs";
import { Answers, fail } from "./budget/answers.mjs";
import { BoxParts } from "./budget/boxparts.mjs";
import { Changes } from "./budget/changes.mjs";
import { Comparison } from "./budget/comparison.mjs";
import { Conversion } from "./budget/conversion.mjs";
import { Files } from "./budget/files.mjs";
import { FlightLog } from "./budget/flightlog.mjs";
import { Mine } from "./budget/mine.mjs";
import { Newcomer } from "./budget/newcomer.mjs";
import { OpenBudget } from "./budget/open.mjs";
import { isAnythingToOpen, Opening } from "./budget/opening.mjs";
import { Place } from "./budget/place.mjs";
import { RoomSearch } from "./budget/room.mjs";
import { Rows } from "./budget/rows.mjs";
import { SharedAddress } from "./budget/sharedaddress.mjs";
import { StockDialog } from "./budget/stockdialog.mjs";
import { Tables } from "./budget/tables.mjs";

const root = document.documentElement;
const opens = isAnythingToOpen(); // else the page's example is what is open

const form = new BudgetForm();
const place = new Place(opens ? "none" : "example");
const held = new Held();
const undo = new Undo(() => place.where);
const phone = new PhoneAnswer(
  () => place.visit,
  () => place.rightFragment,
);
const answers = new Answers(place, form, held);
const { engine } = answers;
const share = new Share(engine, () => (place.isOpen ? form.current() : null), !opens);
answers.onAnswer((result, url) => share.answered(result, url));
const sharedAddress = new SharedAddress(place, form, answers);
place.onMove((from, to) => held.moved(from, to));
place.onMove((from, to) => undo.moved(from, to));

const open = new OpenBudget({ place, form, answers, held, undo, sharedAddress });
const opening = new Opening(open, engine, form.example);
const tables = new Tables(open, engine);
const logs = new FlightLog(open, engine);
const parts = [
  new Mine(open, opening, answers),
  new Comparison(open, answers, held),
  new Newcomer(open, answers),
  new Files(open, engine, tables, logs),
  logs,
  tables,
  new Rows(open, answers),
  new BoxParts(open, engine),
  new Changes(open, answers),
  new RoomSearch(open, answers),
  new AirframeParts(open, answers),
  new Conversion(open, engine),
  new StockDialog(open, engine),
];

/** @type {import("../page/events.mjs").Doers} */
const own = {
  undo: () => undo.run(),
  "undo-close": () => undo.dismiss(),
  why: ({ dataset: { part = "" } }) => answers.toggleWhy(part),
  "copy-link": copyLink,
  qr: () => share.toggle(),
  share: () => share.share(),
  print: () => share.print(),
  bar: () => phone.toggle(),
  again: () => {
    engine.restart();
    return place.isOpen ? answers.refresh() : opening.first();
  },
  go: ({ dataset: { to = "" } }) => {
    phone.closeIfOpen();
    goTo(to);
  },
};

/**
 * @param {string | null} id of the budget worked on last
 * @returns {boolean} whether its answer of last time is shown
 */
function showLastOf(id) {
  const budget = id && address.linkIn(location.hash) === null ? budgets.load(id) : null;
  return id !== null && budget !== null && showLast(id, budget);
}

answers.onAnswer(() => {
  forgetLast();
  if (place.mode !== "example") by("first-step").hidden = true;
  keeper.keep(place.mode === "own" ? place.id : "");
});
onDo(Object.assign(own, ...parts.map(({ doers }) => doers)), fail, (target) => answers.showWhy(target));
askBeforeLeaving();
watchMenus();
watchSubjects(by("form"));
root.classList.add("js");
root.dataset.runs = "";
form.enable();
if (opens) {
  form.inert = true;
  showTools("out");
  answers.opening(showLastOf(budgets.current()));
  opening.first().catch(fail);
} else {
  showTools("all");
  const spoiled = address.isSpoiled(location.hash);
  answers.first().then(() => spoiled && opening.refuse()); // told after the answer's own problems
}
