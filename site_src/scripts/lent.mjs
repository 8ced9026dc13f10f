/** Loads Pyodide with a program that the page has compiled while the worker came to life. */
import { loadPyodide } from "./pyodide/pyodide.mjs";

const FOLDER = new URL("pyodide/", import.meta.url);
const PROGRAM = new URL("pyodide.asm.wasm", FOLDER).href;

/**
 * Pyodide with a program that is compiled already. It offers no way for that: so what it would fetch and instantiate the
 * program with stands aside meanwhile.
 * @param {Promise<WebAssembly.Module | null>} lent the program as the page compiled it (`begin.js`); null: fetch it
 * @param {object} settings of `loadPyodide` @returns {ReturnType<typeof loadPyodide>}
 */
export async function loadWith(lent, settings) {
  const { fetch } = self;
  const { instantiateStreaming } = WebAssembly;
  self.fetch = async (wanted, ...more) => {
    const spared = String(wanted) === PROGRAM && (await lent);
    return spared ? new Response() : fetch(wanted, ...more);
  };
  const { promise: refused, reject } = Promise.withResolvers();
  WebAssembly.instantiateStreaming = async (source, imports) => {
    try {
      const module = await lent;
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
