/** The newcomer's budget: a class and three parts of the usual kind. What it lacks is asked for afterwards. */

/** @typedef {import("./document.mjs").Budget} Budget */

/** Taken unless somebody says otherwise: guesses, as every part here. */
const LEADS = { kind: "wiring", name: "plug and leads", mass: "0.4 g", known_by: "guess" };
const ROD = { kind: "linkage", name: "push rod with ends", mass: "1 g", known_by: "guess" };
const SESSION = { flights: 6, on_time: "5 min" };

/** @param {HTMLFormElement} form @returns {Budget} */
export function budgetOf(form) {
  const given = new FormData(form);
  /** @param {string} name */
  const text = (name) => String(given.get(name) ?? "").trim();
  /** @param {string} name */
  const part = (name) => (text(name) ? JSON.parse(text(name)) : null);
  const [receiver, actuator, cell] = ["receiver", "actuator", "cell"].map(part);
  const gear = [receiver, actuator, actuator?.kind === "servo" ? ROD : null, LEADS].filter(Boolean);
  const model = { class: text("class"), ...(text("airframe") ? { airframe: text("airframe"), airframe_known_by: "guess" } : {}) };
  return { format: 1, name: "My model", units: text("system"), model, gear, ...(cell ? { cell: withoutKind(cell) } : {}), session: SESSION };
}

/** @param {Budget} part */
function withoutKind({ kind, ...rest }) {
  return rest;
}
