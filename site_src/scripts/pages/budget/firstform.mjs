/** The newcomer's budget: a class and three parts of the usual kind. What it lacks is asked for afterwards. */
import { by } from "../../page/dom.mjs";

/** @typedef {import("../../page/document.mjs").Budget} Budget */

/** @param {HTMLFormElement} form @returns {Budget} */
export function budgetOf(form) {
  const given = new FormData(form);
  /** @param {string} name */
  const text = (name) => String(given.get(name) ?? "").trim();
  /** @param {string} name */
  const part = (name) => (text(name) ? JSON.parse(text(name)) : null);
  const { leads, rod, session } = JSON.parse(form.dataset.added ?? "{}"); // taken unless somebody says otherwise
  const [receiver, actuator, cell] = ["receiver", "actuator", "cell"].map(part);
  const gear = [receiver, actuator, actuator?.kind === "servo" ? rod : null, leads].filter(Boolean);
  const airframe = text("airframe") ? { airframe: text("airframe"), airframe_known_by: text("known") } : {};
  const model = { class: text("class"), ...useOf(form), ...airframe };
  return {
    format: 1,
    name: "My model",
    units: text("system"),
    model,
    gear,
    ...(cell ? { cell: withoutKind(cell) } : {}),
    session,
  };
}

/**
 * What such a model is flown as where gear steers: the class says so.
 * @param {HTMLFormElement} form
 * @returns {{use?: string}}
 */
function useOf(form) {
  const {
    selectedOptions: [chosen],
  } = /** @type {HTMLSelectElement} */ (form.elements.namedItem("class"));
  const { value: actuator } = /** @type {HTMLSelectElement} */ (form.elements.namedItem("actuator"));
  const use = actuator ? chosen?.dataset.useSteering : undefined;
  return use ? { use } : {};
}

/** Say beside the choice what it comes to, at each change. @param {HTMLFormElement} form */
export function watch(form) {
  form.addEventListener("input", () => {
    by("first-sport").hidden = useOf(form).use === undefined;
    showProblem("");
  });
}

/** @param {string} text what is wrong with the airframe, "" for nothing */
export function showProblem(text) {
  by("first-airframe-problem").textContent = text;
  by("first-airframe-field").classList.toggle("bad", text !== "");
  by("first-airframe").toggleAttribute("aria-invalid", text !== "");
  if (text) by("first-airframe").focus();
}

/** @param {string} text what the form waits for, "" for nothing */
export function showWaiting(text) {
  by("first-told").textContent = text;
  by("first-go", HTMLButtonElement).disabled = text !== "";
}

/** @param {Budget} part */
function withoutKind({ kind, ...rest }) {
  return rest;
}
