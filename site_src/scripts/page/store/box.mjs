/**
 * The visitor's box of parts on this device.
 *
 * @typedef {import("../document.mjs").Budget} Box
 */
import { calledOr, nameOf } from "../document.mjs";
import { device, KEYS, onStored, parsed, texts } from "./texts.mjs";

/** @returns {Box | null} null while there is none */
export function load() {
  return parsed(texts.read(KEYS.box, device));
}

/** @param {Box} box @returns {boolean} whether it outlasts this page */
export function save(box) {
  return texts.write(KEYS.box, JSON.stringify(box), device);
}

/** @returns {Box} a box without parts */
export function empty() {
  return { format: 1, name: "My box", units: "metric", parts: [] };
}

/** @param {Box} box @returns {any[]} its parts, [] if they are no list */
export function partsOf(box) {
  return Array.isArray(box.parts) ? box.parts : [];
}

const NOT_KEPT = "This browser does not keep the box: its store is full or closed.";

/**
 * Put a part into the box, in place of one of its kind and name.
 * @param {Box} part
 * @returns {string} what came of it
 */
export function put(part) {
  const box = load() ?? empty();
  const parts = partsOf(box);
  const same = parts.findIndex((each) => each?.kind === part.kind && nameOf(each) === nameOf(part));
  const kept = save({ ...box, parts: same < 0 ? [...parts, part] : parts.with(same, part) });
  const instead = same < 0 ? "" : ", in place of the part of that name";
  return kept ? `“${calledOr(part, "The part")}” is in the box${instead}.` : NOT_KEPT;
}

/** Tell when another tab changes the box. @param {() => void} act */
export function onChange(act) {
  onStored(KEYS.box, act);
}
