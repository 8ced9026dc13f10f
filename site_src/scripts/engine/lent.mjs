/** Loads Pyodide with each of its parts checked, or with a program that is there already. */
import { fetchChecked, isPart } from "./checked.mjs";

// Asked for at once, as all that a start needs: one after the other costs a hundredth of a second each.
const pyodide = import("./pyodide/pyodide.mjs");
pyodide.catch(() => {}); // told when it is awaited below

const FOLDER = new URL("pyodide/", import.meta.url);
const PROGRAM = new URL("pyodide.asm.wasm", FOLDER).href;

/**
 * Pyodide offers no way to give it a program: so what it would fetch and instantiate it with stands aside meanwhile.
 * @param {Promise<WebAssembly.Module> | null} program compiled; null: fetch the whole one
 * @param {object} settings of `loadPyodide`
 * @returns {ReturnType<typeof import("./pyodide/pyodide.mjs").loadPyodide>}
 */
export async function loadWith(program, settings) {
  const { loadPyodide } = await pyodide;
  const { fetch } = self;
  const { promise: refused, reject } = Promise.withResolvers();
  refused.catch(() => {}); // told by the race below
  const { instantiateStreaming } = WebAssembly;
  self.fetch = async (wanted, ...more) => {
    const address = String(wanted);
    if (address === PROGRAM && program) return new Response();
    if (!isPart(address)) return fetch(wanted, ...more);
    const part = fetchChecked(address, fetch);
    part.catch(reject); // Pyodide waits for ever for a standard library that does not come
    return part;
  };
  WebAssembly.instantiateStreaming = async (source, imports) => {
    try {
      if (!program) return await instantiateStreaming(source, imports);
      const module = await program;
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
