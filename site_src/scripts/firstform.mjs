/** The newcomer's budget: a class and three parts of the usual kind. What it lacks is asked for afterwards. */

/** @typedef {import("./document.mjs").Budget} Budget */

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
  const model = { class: text("class"), ...(text("airframe") ? { airframe: text("airframe"), airframe_known_by: "guess" } : {}) };
  return { format: 1, name: "My model", units: text("system"), model, gear, ...(cell ? { cell: withoutKind(cell) } : {}), session };
}

/** @param {Budget} part */
function withoutKind({ kind, ...rest }) {
  return rest;
}
