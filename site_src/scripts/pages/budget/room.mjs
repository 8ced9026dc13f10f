/** The long search for room: asked for by a press, in steps that can be stopped; another press takes its stations. */
import { by } from "../../page/dom.mjs";
import { focus } from "../../page/focus.mjs";
import * as boxes from "../../page/store/box.mjs";

/** @typedef {{sentence: string, edits: unknown[]}} Line what was found, and what takes it */

export class RoomSearch {
  #open;
  #engine;
  #search = 0; // the number of the one under way, 0 for none
  #of = ""; // the text of the document that it is of
  /** @type {Line[]} */
  #list = [];

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "room-search": () => this.#start(),
    "room-stop": () => this.#stop("The search was stopped."),
    "room-take": ({ dataset }) => this.#take(Number(dataset.index)),
  };

  /** @param {import("./open.mjs").OpenBudget} open @param {import("./answers.mjs").Answers} answers */
  constructor(open, answers) {
    this.#open = open;
    this.#engine = answers.engine;
    answers.onAnswer(() => this.#answered());
  }

  /** What was found, or is looked for, is of another budget once something is edited. */
  #answered() {
    if (!this.#of || this.#of === this.#text()) return;
    this.#of = "";
    this.#list = [];
    if (this.#search) this.#stop("Something was changed: the search was stopped.");
    else show([], "");
  }

  /** @returns {string} */
  #text() {
    return JSON.stringify(this.#open.current());
  }

  async #start() {
    const document = this.#open.current();
    const box = boxes.load();
    this.#of = this.#text();
    this.#list = [];
    show([], "Searching …");
    const { search } = await this.#engine.ask("room_start", { document, ...(box ? { box } : {}) });
    this.#search = search;
    by("room-stop").hidden = false;
    while (this.#search === search) {
      const found = await this.#engine.ask("room_step", { search });
      if (this.#search !== search || found.dropped) return;
      if (found.done) this.#found(found.list);
    }
  }

  /** @param {Line[]} list */
  #found(list) {
    this.#search = 0;
    this.#list = list;
    show(list, "");
  }

  /** @param {string} told */
  async #stop(told) {
    this.#search = 0;
    show([], told);
    await this.#engine.ask("room_stop", {});
  }

  /** @param {number} index */
  async #take(index) {
    const line = this.#list[index];
    const before = this.#open.current();
    if (!line) return;
    const { document } = await this.#engine.ask("change_take", { document: before, edits: line.edits });
    const done = await this.#open.change(
      document,
      `Done: ${line.sentence.replace(/\.$/, "")}`,
      () => before,
      "It is as it was.",
    );
    if (done) focus("answer");
  }
}

/** @param {Line[]} list what was found @param {string} told of the search itself */
function show(list, told) {
  by("room-told").textContent = told;
  by("room-found").replaceChildren(...list.map(item));
  by("room-stop").hidden = true;
}

/** @param {Line} line @param {number} index */
function item({ sentence, edits }, index) {
  const said = Object.assign(document.createElement("span"), { id: `room-found-${index}`, textContent: sentence });
  const place = document.createElement("li");
  place.append(said);
  if (edits.length === 0) return place;
  const button = Object.assign(document.createElement("button"), { type: "button", className: "small" });
  Object.assign(button, { id: `room-take-${index}`, textContent: "Do this" });
  Object.assign(button.dataset, { do: "room-take", index: String(index) });
  button.setAttribute("aria-labelledby", `room-take-${index} room-found-${index}`);
  place.append(" ", button);
  return place;
}
