/**
 * Starts Python from the memory snapshot that the build made (tools/make_snapshot.mjs), in a fraction of its own start.
 * Pyodide calls this interface experimental: whatever goes wrong is thrown, and the worker starts the plain way.
 */
import { loadWith } from "./lent.mjs";
import { keptRight, unpacked } from "./unpacked.mjs";

const PAGE = 65_536; // bytes; memory grows in pages

// All at once: the program is read and compiled while the snapshot arrives and is unpacked.
const glue = import("./glue.mjs");
const [data, snapshot] = [unpacked(START.DATA), unpacked(START.SNAPSHOT)];
for (const each of [glue, data, snapshot]) each.catch(() => {}); // told when it is awaited below

/** @typedef {WebAssembly.Module | null} Lent the program, compiled of what the device keeps */

/**
 * @param {Promise<Lent>} lent the program as the page compiled it (`begin.js`), if it did
 * @returns {Promise<WebAssembly.Module>} it, if what it was compiled of is right; else the right one
 */
async function rightOf(lent) {
  const [program, kept] = await Promise.all([lent, keptRight(START.PROGRAM).catch(() => null)]);
  return program && kept ? program : WebAssembly.compile(kept ?? (await unpacked(START.PROGRAM)));
}

/**
 * @param {Promise<Lent>} lent
 * @returns {Promise<any>} Pyodide, imported and warm
 */
export async function restore(lent) {
  const program = rightOf(lent);
  program.catch(() => {}); // told when it is awaited
  const python = await loadWith(program, {
    stdLibURL: "data:application/zip;base64,", // none: what the sums use of it is in the snapshot
    lockFileContents: JSON.stringify(START.LOCK),
    _loadSnapshot: new Uint8Array(), // a stand-in, so that Pyodide goes on without it
    createPyodideModule: async (/** @type {any} */ settings) => {
      const { default: createModule } = await glue;
      const kept = keepData(settings);
      const creating = createModule(kept.settings);
      // What failed meanwhile is told only now: what Pyodide asks for until then, a plain start would take for its own.
      await Promise.race([kept.before.catch(() => {}), creating]);
      const [module, before, packed] = await Promise.all([creating, kept.before, snapshot]); // checked by then
      putInto(module, before, new Uint32Array(packed));
      return module;
    },
  });
  python.pyimport("random").seed();
  return python;
}

/**
 * Put the program's static data into its memory before anything runs, and keep it as it is then: the program comes
 * without.
 * @param {any} settings @returns {{settings: object, before: Promise<Uint32Array<ArrayBuffer>>}}
 */
function keepData(settings) {
  const { promise: before, resolve, reject } = Promise.withResolvers();
  /** @type {import("./pyodide/pyodide.mjs").Instantiate} */
  const instantiateWasm = (imports, receive) =>
    settings.instantiateWasm(imports, async (/** @type {any} */ instance, /** @type {any} */ module) => {
      try {
        putData(instance.exports.memory, await data);
        resolve(staticData(instance.exports));
      } catch (error) {
        return reject(error); // thrown here it would be lost, and nothing would ever start
      }
      return receive(instance, module);
    });
  return { settings: { ...settings, instantiateWasm }, before };
}

/**
 * @param {WebAssembly.Memory} memory
 * @param {ArrayBuffer} file the address where the data begins, in 32 bits, and the data
 */
function putData(memory, file) {
  const [begin = 0] = new Uint32Array(file, 0, 1);
  new Uint8Array(memory.buffer).set(new Uint8Array(file, 4), begin);
}

/**
 * The one number of a function that differs between browsers: that of the trampoline through which Python calls methods
 * in C. Pyodide adds it as it starts; on iOS it does without, and WebKit has numbered more functions by then.
 * @param {any} module @returns {{at: number, value: number}} the number's place in the memory, in words, and the number
 */
function trampoline({ HEAPU32, __PyRuntime: runtime, __PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET: offset }) {
  const at = (runtime + HEAPU32[offset >> 2]) >> 2;
  return { at, value: HEAPU32[at] };
}

/** @param {any} exports @returns {Uint32Array<ArrayBuffer>} what lies before the stack */
function staticData({ memory, __stack_low: end }) {
  return new Uint32Array(memory.buffer, 0, end.value >> 2).slice();
}

/**
 * Have Pyodide's own restoring put our memory in. The file's words (tools/make_snapshot.mjs): lengths of the header, of
 * the list of changes in the static data and of the list of stretches, and where these begin; the header; the changes,
 * as steps and new words; the memory from the top of the stack on, as the zeros before each stretch, its length, and
 * the words of all.
 * @param {any} module @param {Uint32Array} data static, as it was @param {Uint32Array<ArrayBuffer>} file
 */
function putInto(module, data, file) {
  const [header = 0, changes = 0, stretches = 0, top = 0] = file;
  let read = 4;
  const next = (/** @type {number} */ length) => {
    read += length;
    return file.subarray(read - length, read);
  };
  const checked = next(header);
  const [steps, changed, zeros, lengths] = [next(changes), next(changes), next(stretches), next(stretches)];
  let at = 0;
  steps.forEach((step, index) => {
    at += step;
    data[at] = /** @type {number} */ (changed[index]);
  });
  // The build ignores the size it is told to start with (pyodide issue 6254).
  let words = top;
  const count = (/** @type {number} */ length) => {
    words += length;
  };
  zeros.forEach(count);
  lengths.forEach(count);
  const end = Math.ceil((4 * words) / PAGE) * PAGE;
  if (module.HEAP8.length < end && !module.growMemory(end)) throw new Error("no memory for the snapshot");
  const { restoreSnapshot } = module.API;
  module.API.restoreSnapshot = () => {
    // Pyodide reads its header there, and checks that it is of this build.
    const state = restoreSnapshot(new Uint8Array(file.buffer, checked.byteOffset, checked.byteLength));
    const own = trampoline(module);
    module.HEAPU32.fill(0, top, module._sbrk(0) >> 2); // what has come to stand there since
    module.HEAPU32.set(data);
    let to = top;
    zeros.forEach((gap, index) => {
      const stretch = next(/** @type {number} */ (lengths[index]));
      module.HEAPU32.set(stretch, to + gap);
      to += gap + stretch.length;
    });
    module.HEAPU32[own.at] = own.value;
    return state;
  };
}
