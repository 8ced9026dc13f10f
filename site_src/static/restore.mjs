/**
 * Starts Python from the memory snapshot that the build made (tools/make_snapshot.mjs), in a fraction of its own start.
 * Pyodide calls this interface experimental: whatever goes wrong is thrown, and the worker starts the plain way.
 */
import { loadPyodide } from "./pyodide/pyodide.mjs";

const PAGE = 65_536; // bytes; memory grows in pages

/** The program compiles while the snapshot arrives and inflates. @returns {Promise<any>} Pyodide, imported and warm */
export async function restore() {
  const named = import("./start.mjs");
  const snapshot = named.then(({ SNAPSHOT }) => fetch(new URL(SNAPSHOT, import.meta.url)));
  snapshot.catch(() => {}); // told when it is awaited below
  const python = await loadPyodide({
    indexURL: new URL("pyodide/", import.meta.url).href,
    stdLibURL: "data:application/zip;base64,", // none: what the sums use of it is in the snapshot
    lockFileContents: JSON.stringify((await named).LOCK),
    _loadSnapshot: new Uint8Array(), // a stand-in, so that Pyodide goes on without it
    createPyodideModule: async (/** @type {any} */ settings) => {
      const { default: createModule } = await import("./pyodide/pyodide.asm.mjs");
      const program = keepData(settings);
      const creating = createModule(program.settings);
      const inflated = inflate(snapshot, (await named).SIZE);
      const [module, data, bytes] = await Promise.all([creating, program.data, inflated]);
      putInto(module, data, bytes);
      return module;
    },
  });
  python.pyimport("random").seed();
  return python;
}

/** @param {Promise<Response>} fetched @param {number} size @returns {Promise<Uint8Array<ArrayBuffer>>} */
async function inflate(fetched, size) {
  const answer = await fetched;
  if (!answer.ok || !answer.body) throw new Error(`snapshot: ${answer.status}`);
  const bytes = new Uint8Array(size);
  let filled = 0;
  const reader = answer.body.pipeThrough(new DecompressionStream("gzip")).getReader();
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    bytes.set(part.value, filled);
    filled += part.value.length;
  }
  if (filled !== size) throw new Error(`snapshot: ${filled} bytes`);
  return bytes;
}

/**
 * Have the program's static data kept as it is in pyodide.asm.wasm, before anything has run.
 * @param {any} settings @returns {{settings: object, data: Promise<Uint32Array<ArrayBuffer>>}}
 */
function keepData(settings) {
  const { promise: data, resolve, reject } = Promise.withResolvers();
  /** @type {import("./pyodide/pyodide.mjs").Instantiate} */
  const instantiateWasm = (imports, receive) =>
    settings.instantiateWasm(imports, (/** @type {any} */ instance, /** @type {any} */ module) => {
      try {
        resolve(staticData(instance.exports));
      } catch (error) {
        reject(error); // thrown here it would be lost, and nothing would ever start
      }
      return receive(instance, module);
    });
  return { settings: { ...settings, instantiateWasm }, data };
}

/** @param {any} exports @returns {Uint32Array<ArrayBuffer>} */
function staticData({ memory, __heap_base: end }) {
  return new Uint32Array(memory.buffer, 0, end.value >> 2).slice();
}

/**
 * Have Pyodide's own restoring put our memory in. The file's words (tools/make_snapshot.mjs): lengths of the header and
 * of the list of changes in the static data; the header; the changes, as steps and new words; all memory after that.
 * @param {any} module @param {Uint32Array} data @param {Uint8Array<ArrayBuffer>} bytes
 */
function putInto(module, data, bytes) {
  const file = new Uint32Array(bytes.buffer);
  const [header = 0, changes = 0] = file;
  const steps = 2 + header;
  const heap = file.subarray(steps + 2 * changes);
  for (let i = steps, at = 0; i < steps + changes; i++) {
    at += /** @type {number} */ (file[i]);
    data[at] = /** @type {number} */ (file[i + changes]);
  }
  // The build ignores the size it is told to start with (pyodide issue 6254).
  const end = Math.ceil((data.byteLength + heap.byteLength) / PAGE) * PAGE;
  if (module.HEAP8.length < end && !module.growMemory(end)) throw new Error("no memory for the snapshot");
  const { restoreSnapshot } = module.API;
  module.API.restoreSnapshot = () => {
    const state = restoreSnapshot(bytes.subarray(8, 4 * steps)); // checks that it is of this build
    module.HEAPU32.set(data);
    module.HEAPU32.set(heap, data.length);
    return state;
  };
}
