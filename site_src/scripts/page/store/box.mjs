/**
 * The visitor's box of parts on this device.
 *
 * @typedef {import("../document.mjs").Budget} Box
 */
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

/** Tell when another tab changes the box. @param {() => void} act */
export function onChange(act) {
  onStored(KEYS.box, act);
}
