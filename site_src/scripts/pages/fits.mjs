/** Where it fits: the chosen budget's gear in every class and saved model, and every saved set in its model. */
import * as choose from "../page/choose.mjs";
import { nameOf } from "../page/document.mjs";
import { by } from "../page/dom.mjs";
import { answered, fail, startEngine, tell } from "../page/pageengine.mjs";
import { budgets } from "../page/store/budgets.mjs";

const which = by("which", HTMLSelectElement);
const engine = startEngine();

/** @returns {Promise<[string, object][]>} the other budgets: the visitor's own, or the examples while there are none */
async function others() {
  const own = budgets.list().map(({ id }) => `own:${id}`);
  const values = own.length ? own : [...which.options].map(({ value }) => value);
  const loaded = await Promise.all(values.filter((value) => value !== which.value).map(choose.load));
  return loaded.map((budget) => [nameOf(budget), budget]);
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
budgets.onChange(() => {
  choose.fill(which);
  show();
});
choose.fill(which);
choose.pickCurrent(which);
by("fits-tools").hidden = false;
show();
