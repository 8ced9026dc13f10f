/** The page that weighs stock: the engine, and the form. */
import { Engine } from "./engine.mjs";
import { keepSite } from "./offline.mjs";
import { StockForm } from "./stockform.mjs";

const root = document.documentElement;
const banner = /** @type {HTMLElement} */ (document.getElementById("engine"));
const form = /** @type {HTMLFormElement} */ (document.getElementById("stock-form"));

const engine = new Engine((notice) => {
  if (notice.event === "failed") root.dataset.engine = "failed";
  banner.hidden = notice.event === "ready";
  banner.textContent =
    notice.event === "failed" ? `The sums could not start in this browser (${notice.text}).` : `Starting: ${notice.text}.`;
});
const stock = new StockForm(form, engine, () => "metric");
stock.refresh().then(() => {
  root.dataset.engine = "ready";
  performance.mark("answer");
  keepSite();
});
