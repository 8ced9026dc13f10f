/** The page that puts two budgets side by side: two choices, and Python's answer. */
import * as choose from "../page/choose.mjs";
import { by } from "../page/dom.mjs";
import { morph } from "../page/morph.mjs";
import { answered, fail, startEngine, tell } from "../page/pageengine.mjs";
import { budgets } from "../page/store/budgets.mjs";
import * as held from "../page/store/held.mjs";

const before = by("before", HTMLSelectElement);
const after = by("after", HTMLSelectElement);
const selects = [before, after];
const engine = startEngine();

async function refresh() {
  const documents = await Promise.all(selects.map(({ value }) => choose.load(value)));
  const result = await engine.latest("compare", { before: documents[0], after: documents[1] });
  if (!result) return;
  morph(by("compared"), result.html);
  tell("");
  answered();
}

const show = () => refresh().catch(fail);

/** List what there is to choose from. */
function list() {
  for (const select of selects) choose.fill(select, { withHeld: true });
}

for (const select of selects) select.addEventListener("change", show);
by("turn").addEventListener("click", () => {
  [before.value, after.value] = [after.value, before.value];
  show();
});
budgets.onChange(() => {
  list();
  show();
});
list();
if (budgets.list().length > 1 || held.load()) {
  choose.pickOther(before);
  choose.pickCurrent(after);
}
by("choices").hidden = false;
show();
