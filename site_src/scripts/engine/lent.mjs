/** Loads Pyodide with a program that the page has compiled while the worker came to life. */
import { fetchChecked, isHash, isPart } from "./checked.mjs";
import { loadPyodide } from "./pyodide/pyodide.mjs";

export { fetchChecked };

const FOLDER = new URL("pyodide/", import.meta.url);
const PROGRAM = new URL("pyodide.asm.wasm", FOLDER).href;

/**
 * @typedef {{program: WebAssembly.Module, hash: string} | null} Lent a program, and the SHA-256 of what it was compiled
 *   of
 */

/** @param {Promise<Lent>} lent @returns {Promise<WebAssembly.Module | null>} the program, if it is the right one */
async function rightOf(lent) {
  const given = await lent;
  return given && isHash(PROGRAM, given.hash) ? given.program : null;
}

/**
 * Pyodide with a program that is compiled already. It offers no way for that: so what it would fetch and instantiate
 * the program with stands aside meanwhile.
 * @param {Promise<Lent>} lent the program as the page compiled it (`begin.js`), if it did; null: fetch it
 * @param {object} settings of `loadPyodide` @returns {ReturnType<typeof loadPyodide>}
 */
export async function loadWith(lent, settings) {
  const { fetch } = self;
  const right = rightOf(lent);
  right.catch(() => {}); // told when it is awaited below
  const { promise: refused, reject } = Promise.withResolvers();
  refused.catch(() => {}); // told by the race below
  const { instantiateStreaming } = WebAssembly;
  self.fetch = async (wanted, ...more) => {
    const address = String(wanted);
    if (address === PROGRAM && (await right)) return new Response();
    if (!isPart(address)) return fetch(wanted, ...more);
    const part = fetchChecked(address, fetch);
    part.catch(reject); // Pyodide waits for ever for a standard library that does not come
    return part;
  };
  WebAssembly.instantiateStreaming = async (source, imports) => {
    try {
      const module = await right;
      if (!module) return await instantiateStreaming(source, imports);
      return { module, instance: await WebAssembly.instantiate(module, imports) };
    } catch (error) {
      reject(error); // Pyodide only logs it, and waits for ever
      throw error;
    }
  };
  try {
    return await Promise.race([loadPyodide({ indexURL: FOLDER.href, ...settings }), refused]);
  } finally {
    self.fetch = fetch;
    WebAssembly.instantiateStreaming = instantiateStreaming;
  }
}
