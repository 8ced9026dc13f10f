/** Names of budgets, and when each was changed: what tells two of them apart in a list. */

/**
 * A name that none of the others has: "Dunlin copy", then "Dunlin copy 2".
 * @param {string} name @param {string[]} others @returns {string}
 */
export function copyName(name, others) {
  const taken = new Set(others);
  const base = `${name.replace(/ copy( \d+)?$/, "")} copy`.trim();
  let found = base;
  for (let number = 2; taken.has(found); number++) found = `${base} ${number}`;
  return found;
}

/**
 * In English, as the page is. By the texts that the language's standard sets, not by `Intl`: with that a browser takes
 * a hundredth of a second and more to write its first date.
 * @param {number} changed ms since 1970
 * @param {Date} [now]
 * @returns {string} "today, 14:05", "14 Nov", or with the year if it is not this one's; "" for no date
 */
export function when(changed, now = new Date()) {
  const date = new Date(changed);
  const [, month = "", day, year = ""] = date.toDateString().split(" ");
  if (!day) return "";
  if (date.toDateString() === now.toDateString()) return `today, ${date.toTimeString().slice(0, 5)}`;
  return [Number(day), month, ...(date.getFullYear() === now.getFullYear() ? [] : [year])].join(" ");
}

/** @param {{name: string, changed: number, from: string}} listed @returns {string} a line for a list of budgets */
export function line({ name, changed, from }) {
  const more = [changed > 0 ? when(changed) : "", from === "link" ? "by link" : ""].filter(Boolean).join(", ");
  return more ? `${name} (${more})` : name;
}
