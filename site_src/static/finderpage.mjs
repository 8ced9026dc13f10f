/** The finder's page: searches the box for the chosen budget, step by step. No sums here. */
import * as choose from "./choose.mjs";
import { EngineError } from "./engine.mjs";
import { answered, offer, startEngine, tell } from "./pageengine.mjs";
import * as store from "./store.mjs";

/** @typedef {import("./document.mjs").Budget} Budget */

/** @param {string} id @returns {any} */
const by = (id) => document.getElementById(id);
const engine = startEngine();
let search = 0;
/** @type {Budget[]} the budget with each of the sets found */
let documents = [];
let searched = ""; // which budget they are of

/** @param {unknown} error */
function fail(error) {
  if (error instanceof EngineError && error.code === "stopped") return;
  tell(error instanceof Error ? error.message : String(error));
}

/** @param {boolean} on */
function busy(on) {
  by("progress").hidden = by("stop").hidden = !on;
}

/** @returns {Promise<Budget>} the visitor's box, else the starter box, and says which */
async function theBox() {
  const own = store.box();
  by("starter-note").hidden = own !== null;
  if (own) return own;
  return (await fetch(new URL("demo/box.json", document.baseURI))).json();
}

/** Search anew. */
async function begin() {
  const which = by("which").value;
  const [budget, box] = await Promise.all([choose.load(which), theBox()]);
  const started = await engine.ask("finder_start", { document: budget, box, charges: by("charges").value });
  search = started.search;
  busy(true);
  by("progress").value = 0;
  let step = { done: 0 };
  while (step.done < 1) {
    step = await engine.ask("finder_step", { search: started.search });
    if (search !== started.search || "dropped" in step) return;
    by("progress").value = step.done;
  }
  busy(false);
  const { html, documents: found } = /** @type {any} */ (step);
  by("result").innerHTML = html;
  documents = found;
  searched = which;
  answered();
}

/** Put a set into the budget, with a way back. @param {number} index */
async function use(index) {
  const before = await choose.load(searched);
  const { id, kept } = choose.keep(searched, documents[index] ?? before);
  const own = searched.startsWith("own:");
  choose.fill(by("which"));
  by("which").value = `own:${id}`;
  searched = `own:${id}`;
  const where = kept ? "" : " This browser does not keep it: it lasts only as long as this page.";
  offer(`Set ${index + 1} is in “${before.name ?? "the budget"}”${own ? "" : ", now a budget of your own"}.${where}`, "Undo", () => {
    if (own) choose.keep(`own:${id}`, before);
    else store.remove(id);
    choose.fill(by("which"));
    tell("Undone.");
  });
  const link = document.createElement("a");
  link.href = "index.html";
  link.textContent = "Open the budget";
  by("told").append(" ", link);
}

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  if (button.dataset.do === "use") use(Number(button.dataset.index)).catch(fail);
  else if (button.dataset.do === "stop") {
    search = 0;
    busy(false);
    tell("The search was stopped.");
    engine.ask("finder_stop", {}).catch(fail);
  }
});
by("which").addEventListener("change", () => begin().catch(fail));
by("charges").addEventListener("change", () => begin().catch(fail));
store.onBoxChange(() => begin().catch(fail));

choose.fill(by("which"));
by("finder-tools").hidden = false;
begin().catch(fail);
