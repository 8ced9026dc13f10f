/** Where it fits: the chosen budget's gear in every class and saved model, and every saved set in its model. */
import * as choose from "./choose.mjs";
import { nameOf } from "./document.mjs";
import { EngineError } from "./engine.mjs";
import { answered, startEngine, tell } from "./pageengine.mjs";
import * as store from "./store.mjs";

const which = /** @type {HTMLSelectElement} */ (document.getElementById("which"));
const result = /** @type {HTMLElement} */ (document.getElementById("result"));
const engine = startEngine();

/** @returns {Promise<[string, object][]>} the other budgets: the visitor's own, or the examples while there are none */
async function others() {
  const own = store.list().map(({ id }) => `own:${id}`);
  const values = own.length ? own : [...which.options].map(({ value }) => value);
  const wanted = values.filter((value) => value !== which.value);
  const budgets = await Promise.all(wanted.map(choose.load));
  return budgets.map((budget) => [nameOf(budget), budget]);
}

async function show() {
  const [document, list] = await Promise.all([choose.load(which.value), others()]);
  const found = await engine.latest("places", { document, others: list });
  if (!found) return;
  result.innerHTML = found.html;
  answered();
}

/** @param {unknown} error */
function fail(error) {
  if (error instanceof EngineError && error.code === "stopped") return;
  tell(error instanceof Error ? error.message : String(error));
}

which.addEventListener("change", () => show().catch(fail));
store.onChange(() => {
  choose.fill(which);
  show().catch(fail);
});
choose.fill(which);
/** @type {HTMLElement} */ (document.getElementById("fits-tools")).hidden = false;
show().catch(fail);
