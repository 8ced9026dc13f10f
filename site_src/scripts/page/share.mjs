/**
 * What leaves the page: the QR code of the link, the device's share sheet, and the sheet for the field box.
 *
 * Code and sheet are drawn by Python when they are asked for. The sheet, which takes some milliseconds, is drawn once
 * more when typing has paused, for those who print by the browser's own menu; the code takes far longer, and is not. A
 * sheet of what stood in the form before is never printed: it says so instead.
 *
 * @typedef {import("./document.mjs").Budget} Budget
 * @typedef {import("../engine/engine.mjs").Engine} Engine
 */
import { by } from "./dom.mjs";

const PAUSE = 300; // ms after the last answer until the sheet is drawn anew
const AGAIN = 5; // times that a sheet is drawn anew because the form changed meanwhile

export class Share {
  #engine;
  #current;
  #told = { title: "", text: "", url: "" };
  #sheetOf = ""; // the text of the document that the sheet is of
  #sheetUrl = ""; // the link to that, "" if there is none or it is not known yet
  #codeOf = ""; // the address that the codes are of
  #paper = "";
  #timer = 0;

  /**
   * @param {Engine} engine
   * @param {() => Budget | null} current what stands in the form, null while nothing is shown
   * @param {boolean} shown whether the sheet in the page is of that
   */
  constructor(engine, current, shown) {
    this.#engine = engine;
    this.#current = current;
    if (shown) this.#sheetOf = JSON.stringify(current());
    addEventListener("beforeprint", () => by("print-sheet").toggleAttribute("data-stale", !this.#fresh()));
    addEventListener("keydown", (event) => {
      const asked =
        (event.ctrlKey || event.metaKey) && !event.shiftKey && !event.altKey && event.key.toLowerCase() === "p";
      const done = this.#fresh() && this.#sheetUrl && this.#codeOf === this.#sheetUrl;
      if (!asked || by("print", HTMLButtonElement).disabled || done) return;
      event.preventDefault();
      this.print().catch(() => print());
    });
  }

  /** @returns {boolean} whether the sheet is of what stands in the form */
  #fresh() {
    return this.#current() !== null && this.#sheetOf === JSON.stringify(this.#current());
  }

  /**
   * There is a new answer.
   * @param {{name: string, headline: string}} result
   * @param {string} url the link, "" if there is none
   */
  answered({ name, headline }, url) {
    this.#told = { title: `${name || "A budget"}: Thistledown`, text: headline, url };
    by("share-sheet").hidden = !url || typeof navigator.share !== "function";
    by("print", HTMLButtonElement).disabled = false;
    by("qr-toggle", HTMLButtonElement).disabled = !url;
    if (!url) this.#panel(false);
    if (this.#codeOf !== url) by("qr-panel").setAttribute("aria-busy", "true"); // an old code would open an old budget
    clearTimeout(this.#timer);
    this.#timer = window.setTimeout(() => this.#paused(), PAUSE);
  }

  async #paused() {
    try {
      if (!this.#fresh()) await this.#sheet();
      if (!by("qr-panel").hidden) await this.#code(this.#told.url);
    } catch {
      // Nobody asked for it: who prints is told that there is no sheet.
    }
  }

  async #sheet() {
    const budget = this.#current();
    const result = await this.#engine.latest("sheet", { document: budget });
    if (!result) return;
    by("sheet").innerHTML = result.html;
    this.#sheetOf = JSON.stringify(budget);
    this.#sheetUrl = result.link && `${location.origin}${location.pathname}${result.link}`;
    this.#place();
  }

  /** @param {string} url */
  async #code(url) {
    if (url && this.#codeOf !== url) {
      const result = await this.#engine.latest("qr", { address: url });
      if (!result) return;
      this.#codeOf = url;
      this.#paper = result.paper;
      by("qr-panel").innerHTML = result.screen;
      by("qr-panel").append(result.told);
    }
    by("qr-panel").setAttribute("aria-busy", String(this.#codeOf !== this.#told.url));
    this.#place();
  }

  /** Put the code on the sheet, if it is of the same budget. */
  #place() {
    const place = by("sheet-code");
    place.innerHTML = this.#sheetUrl && this.#codeOf === this.#sheetUrl ? this.#paper : "";
    if (place.firstChild)
      place.append(Object.assign(document.createElement("p"), { textContent: "Scan for this budget" }));
  }

  /** @param {boolean} open */
  #panel(open) {
    by("qr-panel").hidden = !open;
    by("qr-toggle").setAttribute("aria-expanded", String(open));
    by("qr-toggle").textContent = open ? "Hide QR code" : "Show QR code";
  }

  /** Show or hide the code. */
  async toggle() {
    this.#panel(Boolean(by("qr-panel").hidden));
    if (!by("qr-panel").hidden) await this.#code(this.#told.url);
  }

  /** Print the sheet of what stands in the form. */
  async print() {
    for (let tries = 0; tries < AGAIN && !(this.#fresh() && this.#sheetUrl); tries++) await this.#sheet();
    await this.#code(this.#sheetUrl);
    print();
  }

  /** Hand the link to the device's share sheet. */
  async share() {
    try {
      await navigator.share(this.#told);
    } catch (error) {
      if (error instanceof DOMException && error.name === "AbortError") return; // the visitor changed their mind
      by("copied").textContent = "The device’s share sheet did not open: copy the link instead.";
    }
  }
}
