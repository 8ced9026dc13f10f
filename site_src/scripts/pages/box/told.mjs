/**
 * What is said of a file that went into the box.
 *
 * @typedef {{parts: any[], units?: string, ignored: string[], problems: string[]}} Read what came of a file
 */

/** @param {Read} read @param {number} added @returns {string} what became of the parts of a file */
export function toldOf({ parts, ignored, problems }, added) {
  const there = parts.length - added;
  const told = [`${added} part${added === 1 ? "" : "s"} added`];
  if (there) told.push(`${there} ${there === 1 ? "was" : "were"} there already`);
  if (ignored.length) told.push(`columns left aside: ${ignored.join(", ")}`);
  if (problems.length) told.push(`not understood and kept as typed: ${problems.join(" ")}`);
  return `${told.join("; ")}.`;
}
