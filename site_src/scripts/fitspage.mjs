/** Where it fits: the chosen budget's gear in every class and saved model, and every saved set in its model. */
import * as choose from "./choose.mjs";
import { nameOf } from "./document.mjs";
import { answered, by, fail, startEngine, tell } from "./pageengine.mjs";
import * as store from "./store.mjs";

/** @type {HTMLSelectElement} */
const which = by("which");
const engine = startEngine();

/** @returns {Promise<[string, object][]>} the other budgets: the visitor's own, or the examples while there are none */
async function others() {
  const own = store.list().map(({ id }) => `own:${id}`);
  const values = own.length ? own : [...which.options].map(({ value }) => value);
  const budgets = await Promise.all(values.filter((value) => value !== which.value).map(choose.load));
  return budgets.map((budget) => [nameOf(budget), budget]);
}

async function refresh() {
  const [document, list] = await Promise.all([choose.load(which.value), others()]);
  const found = await engine.latest("places", { document, others: list });
  if (!found) return;
  by("result").innerHTML = found.html;
  tell("");
  answered();
}

const show = () => refresh().catch(fail);

which.addEventListener("change", show);
store.onChange(() => {
  choose.fill(which);
  show();
});
choose.fill(which);
choose.pickCurrent(which);
by("fits-tools").hidden = false;
show();
