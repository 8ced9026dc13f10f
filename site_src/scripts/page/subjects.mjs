/** The subjects: which are open is kept on this device; entries that belong to one choice are shown with it. */

import { by } from "./dom.mjs";

const OPEN = "thistledown.open"; // ids of the open subjects, in the browser's store

/** @returns {string[]} */
function kept() {
  try {
    const ids = JSON.parse(localStorage.getItem(OPEN) ?? "null");
    return Array.isArray(ids) ? ids.filter((id) => typeof id === "string") : [];
  } catch {
    return [];
  }
}

/** Open what was open last time, and keep what is opened. @param {HTMLElement} form */
export function watchSubjects(form) {
  const before = kept();
  if (before.length) for (const each of subjects(form)) each.open = before.includes(each.id);
  let known = openOf(form);
  const keep = () => {
    const open = openOf(form);
    if (open === known) return; // what was never touched is not kept: another tab may have kept something meanwhile
    known = open;
    try {
      localStorage.setItem(OPEN, open);
    } catch {
      // A store that is closed or full keeps nothing: they open as they do for a newcomer.
    }
  };
  form.addEventListener("toggle", (event) => event.target instanceof HTMLDetailsElement && keep(), true);
  addEventListener("pagehide", keep); // a browser tells of a toggle a little later, and no more once it leaves
  form.addEventListener("input", (event) => {
    if (event.target instanceof HTMLSelectElement) showBelonging(form, event.target);
  });
}

/** @returns {string[]} the names of the subjects that are shut */
export function shutSubjects() {
  const shut = subjects(by("form")).filter((each) => !each.open);
  return shut.map(({ id }) => id.replace("subject-", ""));
}

/** Mark the answers that are not of what stands in the form, until theirs come. @param {string[]} names of subjects */
export function markWaiting(names) {
  for (const place of by("form").querySelectorAll(".answered")) {
    place.setAttribute("aria-busy", String(names.includes(place.id.replace("of-", ""))));
  }
}

/** @param {HTMLElement} form @returns {string} the ids of the open subjects, as they are kept */
function openOf(form) {
  const open = subjects(form).filter((each) => each.open);
  return JSON.stringify(open.map(({ id }) => id));
}

/** @param {HTMLElement} form @returns {HTMLDetailsElement[]} */
function subjects(form) {
  return [...form.querySelectorAll("details")].filter((each) => each.matches(".subject"));
}

/**
 * Show the entries that belong to what was chosen; those in which something stands stay.
 * @param {HTMLElement} form
 * @param {HTMLSelectElement} choice
 */
function showBelonging(form, choice) {
  for (const each of form.querySelectorAll("[data-belongs]")) {
    if (!(each instanceof HTMLElement)) continue;
    const [path, values = ""] = (each.dataset.belongs ?? "").split("=");
    if (path !== choice.name) continue;
    const filled = [...each.querySelectorAll("input")].some(({ value }) => value !== "");
    each.hidden = !values.split(",").includes(choice.value) && !filled;
  }
}
