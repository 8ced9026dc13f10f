/** The long search for room: asked for by a press, in steps that can be stopped; another press takes its stations. */
import { by } from "../../page/dom.mjs";
import { focus } from "../../page/focus.mjs";
import * as boxes from "../../page/store/box.mjs";

export class RoomSearch {
  #open;
  #engine;
  #search = 0; // the number of the one under way, 0 for none
  #of = ""; // the text of the document that it is of
  /** @type {unknown[]} */
  #edits = [];

  /** @type {import("../../page/events.mjs").Doers} */
  doers = {
    "room-search": () => this.#start(),
    "room-stop": () => this.#stop("The search was stopped."),
    "room-take": () => this.#take(),
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
    this.#edits = [];
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
    this.#edits = [];
    show([], "Searching …");
    const { search } = await this.#engine.ask("room_start", { document, ...(box ? { box } : {}) });
    this.#search = search;
    by("room-stop").hidden = false;
    while (this.#search === search) {
      const found = await this.#engine.ask("room_step", { search });
      if (this.#search !== search || found.dropped) return;
      if (found.done) this.#found(found);
    }
  }

  /** @param {{sentences: string[], edits: unknown[]}} found */
  #found({ sentences, edits }) {
    this.#search = 0;
    this.#edits = edits;
    show(sentences, "");
    by("room-take").hidden = edits.length === 0;
  }

  /** @param {string} told */
  async #stop(told) {
    this.#search = 0;
    show([], told);
    await this.#engine.ask("room_stop", {});
  }

  async #take() {
    const before = this.#open.current();
    const { document } = await this.#engine.ask("change_take", { document: before, edits: this.#edits });
    const told = "Done: the parts have the stations of these places.";
    if (await this.#open.change(document, told, () => before, "The stations are as they were.")) focus("answer");
  }
}

/** @param {string[]} sentences what was found @param {string} told of the search itself */
function show(sentences, told) {
  by("room-told").textContent = told;
  by("room-found").replaceChildren(
    ...sentences.map((sentence) => Object.assign(document.createElement("li"), { textContent: sentence })),
  );
  by("room-stop").hidden = true;
  by("room-take").hidden = true;
}
