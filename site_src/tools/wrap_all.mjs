/**
 * Becomes part of the glue (make_glue.mjs): Pyodide makes a function of the program out of each function in JavaScript
 * whose address the program takes, by a module of its own each, up to 280 in every start. This makes one of all.
 * @param {Function[]} functions each with its signature as `sig`: the letter of what it returns, v for nothing, then
 *   those of its arguments
 * @param {Record<string, number>} codes of the letters, as in WebAssembly's binary format
 * @returns {Map<Function, Function>} what each becomes
 */
export function wrapAll(functions, codes) {
  const number = (/** @type {number} */ value) => {
    const bytes = []; // LEB128
    for (let rest = value; ; rest >>>= 7) {
      bytes.push(rest > 127 ? (rest & 127) | 128 : rest);
      if (rest <= 127) return bytes;
    }
  };
  const list = (/** @type {number[][]} */ entries) => [...number(entries.length), ...entries.flat()];
  const section = (/** @type {number} */ id, /** @type {number[][]} */ entries) => {
    const content = list(entries);
    return [id, ...number(content.length), ...content];
  };
  const types = (/** @type {string} */ letters) => list([...letters].map((each) => [codes[each] ?? 0]));
  const signatures = functions.map((each) => /** @type {any} */ (each).sig);
  const name = (/** @type {number} */ at) => list([...String(at)].map((digit) => [digit.charCodeAt(0)]));
  const bytes = [
    ...[0, 97, 115, 109, 1, 0, 0, 0],
    ...section(
      1,
      signatures.map((sig) => [96, ...types(sig.slice(1)), ...types(sig[0] === "v" ? "" : sig[0])]),
    ),
    ...section(
      2,
      functions.map((_, at) => [1, 101, ...name(at), 0, ...number(at)]),
    ), // 101 is the letter e
    ...section(
      7,
      functions.map((_, at) => [...name(at), 0, ...number(at)]),
    ),
  ];
  const given = Object.fromEntries(functions.map((each, at) => [String(at), each]));
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(Uint8Array.from(bytes)), { e: given });
  return new Map(functions.map((each, at) => [each, /** @type {any} */ (exports)[String(at)]]));
}
