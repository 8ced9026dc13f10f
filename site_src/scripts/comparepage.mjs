/** The page that puts two budgets side by side: two choices, and Python's answer. */
import * as choose from "./choose.mjs";
import { answered, by, fail, startEngine, tell } from "./pageengine.mjs";
import * as store from "./store.mjs";
import { Idiomorph } from "idiomorph";

/** @type {HTMLSelectElement[]} */
const selects = [by("before"), by("after")];
const engine = startEngine();

async function refresh() {
  const [before, after] = await Promise.all(selects.map(({ value }) => choose.load(value)));
  const result = await engine.latest("compare", { before, after });
  if (!result) return;
  Idiomorph.morph(by("compared"), result.html, { morphStyle: "innerHTML" });
  tell("");
  answered();
}

const show = () => refresh().catch(fail);

/** List what there is to choose from. */
function list() {
  for (const select of selects) choose.fill(select, { held: true });
}

for (const select of selects) select.addEventListener("change", show);
by("turn").addEventListener("click", () => {
  [by("before").value, by("after").value] = [by("after").value, by("before").value];
  show();
});
store.onChange(() => {
  list();
  show();
});
list();
if (store.list().length > 1 || store.held()) {
  choose.pickOther(by("before"));
  choose.pickCurrent(by("after"));
}
by("choices").hidden = false;
show();
