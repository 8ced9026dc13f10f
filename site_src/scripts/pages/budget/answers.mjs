/**
 * The answers to what stands in the form: asked for at each change, and shown unless another document is there by then.
 */
import { Engine, EngineError } from "../../engine/engine.mjs";
import { keeping } from "../../engine/offline.mjs";
import { showAnswer, showPlaces, trouble } from "../../page/answer.mjs";
import { by } from "../../page/dom.mjs";
import * as engineLine from "../../page/engineline.mjs";
import { Stale } from "../../page/stale.mjs";
import { markWaiting, shutSubjects } from "../../page/subjects.mjs";
import { showTools } from "../../page/toolbar.mjs";
import { Why } from "../../page/why.mjs";

/**
 * @typedef {import("../../page/document.mjs").Budget} Budget
 * @typedef {import("../../page/answer.mjs").Result} Result
 */

const REST = 120; // ms after an answer, in which nothing was typed, until the subjects that are shut are answered

/** Show what went wrong. @param {unknown} error */
export function fail(error) {
  if (error instanceof EngineError && error.code === "stopped") return; // the engine's own line says it
  trouble.tell(error instanceof Error ? error.message : String(error));
}

export class Answers {
  #place;
  #form;
  #held;
  #why = new Why();
  #stale = new Stale();
  #turn = 0; // counts the documents that were asked for: an answer to an older one is not shown
  #answered = false;
  #link = "";
  /** @type {{timer: number, params: object} | null} what the subjects that are shut wait for */
  #rest = null;
  /** @type {((result: Result, address: string) => void)[]} */
  #followers = [];

  /**
   * @param {import("./place.mjs").Place} place
   * @param {import("../../page/form.mjs").BudgetForm} form
   * @param {import("../../page/held.mjs").Held} held what an answer compares with
   */
  constructor(place, form, held) {
    this.#place = place;
    this.#form = form;
    this.#held = held;
    this.engine = new Engine((notice) => this.#notice(notice));
    // A subject that is opened waits no longer.
    by("form").addEventListener("toggle", () => this.#askRest().catch(fail), true);
  }

  /** @returns {boolean} whether a computed answer has been shown */
  get any() {
    return this.#answered;
  }

  /** @returns {string} the fragment of what was answered last, "" if it fits into none */
  get link() {
    return this.#link;
  }

  /**
   * Tell of each answer that is shown, with its link in full, "" if there is none.
   * @param {(result: Result, address: string) => void} act
   */
  onAnswer(act) {
    this.#followers.push(act);
  }

  /**
   * The page shows another answer while a budget is being opened.
   * @param {boolean} own whether its own, of last time
   */
  opening(own) {
    this.#stale.opening(own);
  }

  /** Answer what stands in the form, which was changed. @returns {Promise<void>} once it is answered */
  refresh() {
    trouble.tell(""); // the visitor has gone on
    this.#stale.asked();
    return this.first();
  }

  /** Answer what the page was made with, whose answer it has already. @returns {Promise<void>} once it is answered */
  async first() {
    const asked = this.#turn;
    const params = { document: this.#form.current(), ...this.#beside(this.#held.budget), shut: shutSubjects() };
    this.#leaveRest();
    const first = (/** @type {Pick<Result, "places">} */ { places }) => {
      // What says that an old answer stands there goes away with the whole new one.
      if (asked === this.#turn && !this.#stale.isTold) showPlaces(places);
    };
    try {
      const result = await this.engine.latest("answer", params, first);
      if (result === null || asked !== this.#turn) return;
      this.#put(result);
      this.#rest = { params, timer: window.setTimeout(() => this.#askRest().catch(fail), REST) };
      markWaiting(params.shut);
    } catch (error) {
      if (asked === this.#turn) this.#stale.refused();
      fail(error);
    }
  }

  /** Ask for the answers of the subjects that are shut: nobody sees them, so they may come after the others. */
  async #askRest() {
    const rest = this.#rest;
    this.#leaveRest();
    if (!rest) return;
    const turn = this.#turn;
    const { places } = await this.engine.ask("rest", rest.params);
    if (turn !== this.#turn || this.#rest) return;
    showPlaces(places);
    markWaiting([]);
  }

  #leaveRest() {
    clearTimeout(this.#rest?.timer);
    this.#rest = null;
  }

  /**
   * Show another document in the form, with its answer. Until it is shown the form takes nothing: what is typed while
   * it is written anew would be lost. When that fails, what stood there stands there still.
   * @param {Budget} budget
   * @param {{fromUnits?: string, against?: Budget | null, example?: boolean, stands?: boolean, enter?: () => void}}
   *   [how] the system of units in which its bare numbers were typed; what it is compared with, if not with what is
   *   held; whether it is nobody's own; whether it stands there already, from last time; what is done once it is in the
   *   form, before its answer is told of as that of the open budget
   * @returns {Promise<boolean>} whether it is shown; not if another one was asked for meanwhile
   */
  async show(budget, { fromUnits, against = this.#held.budget, example = false, stands = false, enter } = {}) {
    this.#turn += 1;
    this.#leaveRest();
    const mine = this.#turn;
    this.#form.inert = true;
    trouble.tell("");
    try {
      const params = { document: budget, from_units: fromUnits, ...this.#beside(against), example };
      if (stands) this.#before(params, mine);
      const result = await this.engine.ask("form", params);
      if (mine !== this.#turn) return false;
      this.#form.show(result.document, result.form);
      enter?.();
      this.#put(result);
      return true;
    } finally {
      if (mine === this.#turn) this.#form.inert = !this.#place.isOpen && !this.#answered;
    }
  }

  /**
   * Show the answer before its form is written anew, which takes Python some times as long.
   * @param {object} params @param {number} mine the turn it is of
   */
  async #before(params, mine) {
    const result = await this.engine.ask("answer", { ...params, shut: shutSubjects() }).catch(() => null); // told later
    if (!result || mine !== this.#turn || this.#answered) return;
    showPlaces(result.places);
    this.#stale.answered();
    performance.mark("answer");
  }

  /** Show or hide how the numbers of a part come about. @param {string} part */
  toggleWhy(part) {
    this.#why.toggle(part);
    return this.refresh();
  }

  /** Show how a number comes about that was clicked. @param {Element} target */
  async showWhy(target) {
    const asked = this.#answered ? this.#why.asked(target) : null;
    if (!asked) return;
    await this.refresh();
    Why.show(asked);
  }

  /** What is asked beside the answer. @param {Budget | null | undefined} against */
  #beside(against) {
    return { held: against, why: this.#why.parts, example: this.#place.mode === "example" };
  }

  /** Show an answer, and note when the first one is on the page. @param {Result} result */
  #put(result) {
    const address = `${location.origin}${location.pathname}${result.link}`;
    showAnswer(result, address);
    this.#stale.answered();
    markWaiting([]);
    this.#link = result.link;
    for (const act of this.#followers) act(result, result.link && address);
    engineLine.showReady();
    if (this.#answered) return;
    this.#answered = true;
    performance.mark("answer");
    keeping.keepSite();
  }

  /** @param {import("../../engine/engine.mjs").Notice} notice */
  #notice({ event, text }) {
    if (event === "stage") engineLine.showStage(text, this.#place.isOpen);
    else if (event === "late") engineLine.showLate();
    else if (event === "failed") {
      engineLine.showFailed(text);
      showTools("out");
    }
  }
}
