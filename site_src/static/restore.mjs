/**
 * Starts Python from the memory snapshot that the build made (tools/make_snapshot.mjs), in a fraction of its own start.
 * Pyodide calls this interface experimental: whatever goes wrong is thrown, and the worker starts the plain way.
 */
import createModule from "./pyodide/pyodide.asm.mjs";
import { loadPyodide } from "./pyodide/pyodide.mjs";
import { LOCK, SIZE, SNAPSHOT } from "./start.mjs";

const here = new URL(".", import.meta.url);
const PAGE = 65_536; // bytes; memory grows in pages
const MEMORY_AT = 1; // the word of the snapshot's header that says where the memory begins

/** @returns {Promise<any>} Pyodide, with everything imported and warm */
export async function restore() {
  const snapshot = fetchSnapshot();
  snapshot.catch(() => {}); // told when it is awaited below
  const python = await loadPyodide({
    indexURL: new URL("pyodide/", here).href,
    stdLibURL: "data:application/zip;base64,", // none: what the sums use of it is in the snapshot
    lockFileContents: JSON.stringify(LOCK),
    _loadSnapshot: snapshot,
    createPyodideModule: async (/** @type {any} */ settings) => {
      const bytes = await snapshot;
      const module = await createModule({ ...settings, instantiateWasm: withData(settings.instantiateWasm, bytes) });
      // The build ignores the size it is told to start with (pyodide issue 6254).
      const end = Math.ceil(bytes.length / PAGE) * PAGE;
      if (module.HEAP8.length < end && !module.growMemory(end)) throw new Error("no memory for the snapshot");
      return module;
    },
  });
  python.runPython("import random; random.seed()");
  return python;
}

/** @returns {Promise<Uint8Array>} */
async function fetchSnapshot() {
  const answer = await fetch(new URL(SNAPSHOT, here));
  if (!answer.ok || !answer.body) throw new Error(`${SNAPSHOT}: ${answer.status}`);
  const bytes = new Uint8Array(SIZE);
  let filled = 0;
  const reader = answer.body.pipeThrough(new DecompressionStream("gzip")).getReader();
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    bytes.set(part.value, filled);
    filled += part.value.length;
  }
  if (filled !== SIZE) throw new Error(`${SNAPSHOT}: ${filled} bytes`);
  return bytes;
}

/**
 * The snapshot holds the program's static data as the difference from pyodide.asm.wasm: add that, as soon as it is
 * in memory and before anything has run.
 * @param {import("./pyodide/pyodide.mjs").Instantiate} instantiate @param {Uint8Array} bytes
 * @returns {import("./pyodide/pyodide.mjs").Instantiate}
 */
function withData(instantiate, bytes) {
  return (imports, receive) =>
    instantiate(imports, (instance, module) => {
      addData(bytes, new Uint8Array(instance.exports.memory.buffer));
      return receive(instance, module);
    });
}

/** @param {Uint8Array} bytes @param {Uint8Array} data */
function addData(bytes, data) {
  const start = new Uint32Array(bytes.buffer, 0, 4)[MEMORY_AT] ?? 0;
  const words = Math.min(data.length, bytes.length - start) >> 3;
  const into = new BigUint64Array(bytes.buffer, start, words);
  const from = new BigUint64Array(data.buffer, 0, words);
  for (let i = 0; i < words; i++) {
    const word = from[i];
    if (word) into[i] = /** @type {bigint} */ (into[i]) ^ word;
  }
}
