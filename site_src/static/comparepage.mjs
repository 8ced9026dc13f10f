/** The page that puts two budgets side by side: two choices, and Python's answer. */
import { Engine, EngineError } from "./engine.mjs";
import { keepSite } from "./offline.mjs";
import * as store from "./store.mjs";
import { Idiomorph } from "./vendor/idiomorph.mjs";

const root = document.documentElement;
/** @param {string} id @returns {HTMLElement} */
const by = (id) => /** @type {HTMLElement} */ (document.getElementById(id));
const selects = [by("before"), by("after")].map((select) => /** @type {HTMLSelectElement} */ (select));
const [before, after] = /** @type {[HTMLSelectElement, HTMLSelectElement]} */ (selects);
const HELD = "held:";

const engine = new Engine((notice) => {
  if (notice.event === "failed") root.dataset.engine = "failed";
  say("engine", notice.event === "failed" ? `The sums could not start in this browser (${notice.text}).` : notice.event === "stage" ? `Starting: ${notice.text}.` : "");
});

/** @param {string} id @param {string} text */
function say(id, text) {
  by(id).textContent = text;
  by(id).hidden = text === "";
}

/** List the visitor's budgets before the examples; what was chosen stays chosen while it is there. */
function list() {
  const own = store.list().map(({ id, name }) => ({ value: `own:${id}`, name }));
  if (store.held()) own.push({ value: HELD, name: "what is held on the budget page" });
  for (const select of selects) {
    const { value } = select;
    select.querySelector("optgroup[data-own]")?.remove();
    if (own.length) {
      const group = document.createElement("optgroup");
      group.label = "My budgets";
      group.dataset.own = "";
      group.append(...own.map((each) => new Option(each.name, each.value)));
      select.prepend(group);
    }
    if ([...select.options].some((option) => option.value === value)) select.value = value;
  }
}

/** Choose what the visitor most likely came for: the budget last worked on, and the one that is held or else another. */
function choose() {
  const own = store.list().map(({ id }) => id);
  const current = store.current();
  const other = own.filter((id) => id !== current).at(-1);
  if (!current || !(store.held() || other)) return;
  before.value = store.held() ? HELD : `own:${other}`;
  after.value = `own:${current}`;
}

/** @param {string} value what a choice stands for @returns {Promise<object | null>} its document */
async function chosen(value) {
  const [kind, ...rest] = value.split(":");
  const name = rest.join(":");
  if (kind === "own") return store.load(name);
  if (value === HELD) return store.held()?.budget ?? null;
  const answer = await fetch(new URL(`demo/${name}`, document.baseURI));
  if (!answer.ok) throw new Error(`The example did not come (${answer.status}).`);
  return answer.json();
}

let turn = 0;
async function refresh() {
  const mine = ++turn;
  try {
    const documents = await Promise.all(selects.map(({ value }) => chosen(value)));
    const result = await engine.ask("compare", { before: documents[0], after: documents[1] });
    if (mine !== turn) return;
    Idiomorph.morph(by("compared"), result.html, { morphStyle: "innerHTML" });
    say("trouble", "");
    root.dataset.engine = "ready";
    performance.mark("answer");
  } catch (error) {
    if (mine === turn && !(error instanceof EngineError && error.code === "stopped")) say("trouble", error instanceof Error ? error.message : String(error));
  }
}

for (const select of selects) select.addEventListener("change", refresh);
by("turn").addEventListener("click", () => {
  [before.value, after.value] = [after.value, before.value];
  refresh();
});
store.onChange(() => {
  list();
  refresh();
});
list();
choose();
by("choices").hidden = false;
refresh().then(keepSite);
