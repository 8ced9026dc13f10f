/** The finder's page: searches the box for the chosen budget, step by step. No sums here. */
import * as choose from "./choose.mjs";
import { nameOf } from "./document.mjs";
import { answered, by, fail, offer, startEngine, tell } from "./pageengine.mjs";
import * as store from "./store.mjs";
import { Idiomorph } from "idiomorph";

/** @typedef {import("./document.mjs").Budget} Budget */

const engine = startEngine();
let search = 0;
/** @type {{which: string, before: Budget, documents: Budget[], copy: boolean}} the budget that was searched for, it with each set, and whether a set becomes a budget of its own */
let found = { which: "", before: {}, documents: [], copy: false };

/** @param {boolean} on */
function busy(on) {
  by("progress").hidden = by("stop").hidden = !on;
}

/** @param {string} word @returns {string[]} the names of the parts that are to be kept or barred */
function wished(word) {
  const selects = /** @type {NodeListOf<HTMLSelectElement>} */ (document.querySelectorAll("[data-wish]"));
  return [...selects].filter(({ value }) => value === word).map(({ dataset }) => dataset.wish ?? "");
}

/** Search anew. */
async function begin() {
  const which = by("which").value;
  const [before, box] = await Promise.all([choose.load(which), choose.box()]);
  by("starter-note").hidden = store.box() !== null;
  const started = await engine.ask("finder_start", {
    document: before, box, charges: by("charges").value, keep: wished("keep"), bar: wished("bar"), actuator: by("actuator").value,
  });
  search = started.search;
  tell(started.told);
  by("charges").setAttribute("aria-invalid", String(started.wrong));
  Idiomorph.morph(by("wishes"), started.wishes, { morphStyle: "innerHTML" });
  busy(true);
  by("progress").value = 0;
  let step = { done: 0 };
  while (step.done < 1) {
    step = await engine.ask("finder_step", { search: started.search });
    if (search !== started.search || "dropped" in step) return;
    by("progress").value = step.done;
  }
  busy(false);
  const { html, documents, copy } = /** @type {any} */ (step);
  by("result").innerHTML = html;
  found = { which, before, documents, copy };
  answered();
}

const show = () => begin().catch(fail);

/**
 * Put a set into the budget it was searched for, with a way back; never over what was changed there since, and never
 * over masses from the scale: then it becomes a budget of its own.
 * @param {number} index
 */
function use(index) {
  const { which, before, documents, copy } = found;
  const document_ = documents[index];
  if (!document_) return;
  const own = which.startsWith("own:") && !copy && !store.changedElsewhere(which.slice(4));
  const id = own ? which.slice(4) : store.newId();
  const kept = store.save(id, document_);
  choose.fill(by("which"));
  choose.pick(by("which"), `own:${id}`);
  found = { ...found, which: `own:${id}`, before: document_, copy: false };
  const where =
    own ? ""
    : !which.startsWith("own:") ? ", now a budget of your own"
    : copy ? ", a new budget: the first one holds what you weighed, and stays as it is"
    : ", as a second budget, since the first was changed meanwhile";
  const lost = kept ? "" : " This browser does not keep it: it lasts only as long as this page.";
  offer(`Set ${index + 1} is in “${nameOf(document_).trim() || "the budget"}”${where}.${lost}`, "Undo", () => {
    if (store.changedElsewhere(id)) {
      tell("The budget was changed since: undo it there.");
      return;
    }
    if (own) store.save(id, before);
    else store.remove(id);
    found = { ...found, which: own || copy ? which : "", before, copy };
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
  if (button.dataset.do === "use") use(Number(button.dataset.index));
  else if (button.dataset.do === "stop") {
    search = 0;
    busy(false);
    tell("The search was stopped.");
    engine.ask("finder_stop", {}).catch(fail);
  }
});
by("which").addEventListener("change", show);
for (const id of ["charges", "actuator", "wishes"]) by(id).addEventListener("change", show);
store.onBoxChange(show);
addEventListener("beforeunload", (event) => {
  if (store.onlyHere()) event.preventDefault();
});

choose.fill(by("which"));
choose.pickCurrent(by("which"));
by("finder-tools").hidden = false;
show();
