/** Parts taken from the visitor's box into the budget, and put into the box from there. */
import { showDone } from "../../page/answer.mjs";
import * as choose from "../../page/choose.mjs";
import * as dialogs from "../../page/dialogs.mjs";
import { calledOr, nameOf, rowsOf, withPart } from "../../page/document.mjs";
import { by } from "../../page/dom.mjs";
import { focus } from "../../page/focus.mjs";
import * as boxes from "../../page/store/box.mjs";
import { idOf, pathOf } from "./rows.mjs";

const NOT_KEPT = "This browser does not keep the box: its store is full or closed.";

/** Show the parts to choose from. @param {string} html of the templates */
function showPicks(html) {
  by("box-picks").innerHTML = html;
  dialogs.open("box");
}

function closePicks() {
  by("box-picks").innerHTML = "";
  dialogs.close("box");
}

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
    const row = rowsOf(this.#open.current())[Number(path.slice("gear.".length))];
    const kind = path === "cell" ? "cell" : (row?.kind ?? "other");
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
    const { document } = await this.#engine.ask("box_take", { document: before, part, path, units: box.units });
    closePicks();
    const told = `“${calledOr(part, "The part")}” was taken from the box.`;
    const without = () => withPart(open.current(), path, before);
    if (await open.change(document, told, without, "The row is as it was.")) focus(`${idOf(path)}-take`);
  }

  /** Put a part of the budget into the box, in place of one of that name. @param {string} path */
  async #put(path) {
    const { part } = await this.#engine.ask("box_put", { document: this.#open.current(), path });
    const box = boxes.load() ?? boxes.empty();
    const parts = boxes.partsOf(box);
    const same = parts.findIndex((each) => each?.kind === part.kind && nameOf(each) === nameOf(part));
    const kept = boxes.save({ ...box, parts: same < 0 ? [...parts, part] : parts.with(same, part) });
    const instead = same < 0 ? "" : ", in place of the part of that name";
    showDone(kept ? `“${calledOr(part, "The part")}” is in the box${instead}.` : NOT_KEPT);
  }
}
