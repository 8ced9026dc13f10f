/** Parts taken from the visitor's box into the budget, and put into the box from there. */
import { showDone } from "../../page/answer.mjs";
import * as choose from "../../page/choose.mjs";
import * as dialogs from "../../page/dialogs.mjs";
import { calledOr, rowsOf, withPart } from "../../page/document.mjs";
import { by } from "../../page/dom.mjs";
import { focus } from "../../page/focus.mjs";
import * as boxes from "../../page/store/box.mjs";
import { idOf, pathOf } from "./rows.mjs";

/** Show the parts to choose from. @param {string} html of the templates */
function showPicks(html) {
  by("box-picks").innerHTML = html;
  dialogs.open("box");
}

function closePicks() {
  by("box-picks").innerHTML = "";
  dialogs.close("box");
}

/** @param {string} path of a place @returns {boolean} whether it is a part of the airframe, which a sheet is cut for */
const isCut = (path) => path.startsWith("airframe.");

/** @param {string} path @param {import("../../page/document.mjs").Budget} budget @returns {string} what it can take */
function kindOf(path, budget) {
  if (path === "cell") return "cell";
  if (isCut(path)) return "balsa sheet";
  return rowsOf(budget)[Number(path.slice("gear.".length))]?.kind ?? "other";
}

/** @param {import("../../page/document.mjs").Budget} part @returns {string} */
const taken = (part) => `“${calledOr(part, "The part")}” was taken from the box.`;

export class BoxParts {
  #open;
  #engine;
  #path = "cell"; // the place that takes a part of the box

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "box-take": (button) => this.#offer(pathOf(button)),
    "box-use": ({ dataset }) => this.#take(Number(dataset.index)),
    "box-put": (button) => this.#put(pathOf(button)),
    "box-close": closePicks,
  };

  /** @param {import("./open.mjs").OpenBudget} open @param {import("../../engine/engine.mjs").Engine} engine */
  constructor(open, engine) {
    this.#open = open;
    this.#engine = engine;
  }

  /** Show the parts of the box for a place. @param {string} path */
  async #offer(path) {
    this.#path = path;
    const kind = kindOf(path, this.#open.current());
    const { html } = await this.#engine.ask("box", { box: await choose.box(), kind, pick: true });
    showPicks(html);
  }

  /** Take a part of the box, with a way back. @param {number} index */
  async #take(index) {
    const open = this.#open;
    const path = this.#path;
    const box = await choose.box();
    const part = boxes.partsOf(box)[index];
    const before = open.current();
    const asked = { document: before, part, path, units: box.units };
    const { document, told = taken(part) } = await this.#engine.ask(isCut(path) ? "sheet_cut" : "box_take", asked);
    closePicks();
    const without = () => withPart(open.current(), path, before);
    if (await open.change(document, told, without, "The row is as it was.")) focus(`${idOf(path)}-take`);
  }

  /** Put a part of the budget into the box, in place of one of that name. @param {string} path */
  async #put(path) {
    const { part } = await this.#engine.ask("box_put", { document: this.#open.current(), path });
    showDone(boxes.put(part));
  }
}
