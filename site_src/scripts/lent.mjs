/** Loads Pyodide with a program that the page has compiled while the worker came to life. */
import { fetchChecked, isHash, isPart } from "./checked.mjs";
import { loadPyodide } from "./pyodide/pyodide.mjs";

export { fetchChecked };

const FOLDER = new URL("pyodide/", import.meta.url);
const PROGRAM = new URL("pyodide.asm.wasm", FOLDER).href;

/**
 * A program that the page has compiled, or null; and, a little later, the SHA-256 of what it was compiled of.
 * @typedef {{program: Promise<WebAssembly.Module | null>, hash: Promise<string>}} Lent
 */

/**
 * What the page has lent, instantiated; its hash is counted meanwhile, and waited for before anything of it runs.
 * @param {Lent} lent @param {WebAssembly.Imports} imports
 * @returns {Promise<WebAssembly.WebAssemblyInstantiatedSource | null>} null if it is not the right one
 */
async function linked({ program, hash }, imports) {
  const module = await program;
  if (!module) return null;
  const linking = WebAssembly.instantiate(module, imports);
  linking.catch(() => {}); // told when it is awaited below
  if (!isHash(PROGRAM, await hash)) return null;
  return { module, instance: await linking };
}

/**
 * Pyodide with a program that is compiled already. It offers no way for that: so what it would fetch and instantiate the
 * program with stands aside meanwhile.
 * @param {Lent} lent the program as the page compiled it (`begin.js`), if it did; else it is fetched
 * @param {object} settings of `loadPyodide` @returns {ReturnType<typeof loadPyodide>}
 */
export async function loadWith(lent, settings) {
  const { fetch } = self;
  const { promise: refused, reject } = Promise.withResolvers();
  refused.catch(() => {}); // told by the race below
  const { instantiateStreaming } = WebAssembly;
  self.fetch = async (wanted, ...more) => {
    const address = String(wanted);
    if (address === PROGRAM && (await lent.program)) return new Response();
    if (!isPart(address)) return fetch(wanted, ...more);
    const part = fetchChecked(address, fetch);
    part.catch(reject); // Pyodide waits for ever for a standard library that does not come
    return part;
  };
  WebAssembly.instantiateStreaming = async (source, imports) => {
    try {
      const right = await linked(lent, imports ?? {});
      if (right) return right;
      return await instantiateStreaming((await lent.program) ? fetchChecked(PROGRAM, fetch) : source, imports);
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
