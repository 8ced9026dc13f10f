// Makes the memory snapshot: node make_snapshot.mjs PYODIDE_FOLDER APP_ZIP INSIDE_PY TARGET; prints {size, lock}.
//
// The target is gzip of Pyodide's own snapshot, cut after its last byte that is not zero, in which every byte of the
// program's static data is given as its difference (exclusive or) from the data in pyodide.asm.wasm: a visitor has
// those bytes already. The worker undoes this in `restore.mjs`.
import { readFile, writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";

const [folder, archive, inside, target] = process.argv.slice(2).map((path) => resolve(path));
const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`).href);
const { default: factory } = await import(pathToFileURL(`${folder}/pyodide.asm.mjs`).href);

const lock = { info: JSON.parse(await readFile(`${folder}/pyodide-lock.json`, "utf8")).info, packages: {} };
let initial = new Uint8Array();
const python = await loadPyodide({
  indexURL: `${folder}/`,
  lockFileContents: JSON.stringify(lock),
  env: { PYTHONHASHSEED: "0" }, // the same snapshot from the same files
  _makeSnapshot: true,
  createPyodideModule: (settings) => {
    const { instantiateWasm } = settings;
    settings.instantiateWasm = (imports, receive) =>
      instantiateWasm(imports, (instance, module) => {
        initial = new Uint8Array(instance.exports.memory.buffer).slice();
        return receive(instance, module);
      });
    return factory(settings);
  },
});
const memory = python._module;
const staticEnd = memory.___heap_base?.value ?? memory.___heap_base;

python.unpackArchive(new Uint8Array(await readFile(archive)), "zip", { extractDir: "/app" });
python.runPython("import sys; sys.path.insert(0, '/app')");
const namespace = python.toPy({ __name__: "snapshot_inside" });
python.runPython(`${await readFile(inside, "utf8")}\nrun(${staticEnd})`, { globals: namespace });
namespace.destroy();
python.runPython("import gc; gc.collect()");
zeroFreed();

const snapshot = python.makeMemorySnapshot();
const start = new Uint32Array(snapshot.buffer, 0, 4)[1]; // where the memory begins: after the header
for (let i = 0; i < initial.length && start + i < snapshot.length; i++) snapshot[start + i] ^= initial[i];
const used = snapshot.subarray(0, snapshot.findLastIndex((byte) => byte !== 0) + 1);
const packed = gzipSync(used, { level: 9 });
packed.fill(0, 4, 8); // no time of making
await writeFile(target, packed);
console.log(JSON.stringify({ size: used.length, lock }));
process.exit(0);

/** Overwrite memory that was freed: what nobody reads should not travel. */
function zeroFreed() {
  const end = memory._sbrk(0);
  for (let size = 16; size <= 512; size += 16) {
    zero(size, end, 1, memory._PyObject_Malloc, memory._PyObject_Free);
  }
  for (let round = 0; round < 2; round++) {
    const held = [];
    for (let size = 1 << 20; size >= 8; size = size > 64 ? Math.floor(size * 0.8) & ~7 : size - 8) {
      held.push(...take(size, end));
    }
    for (const place of held) memory._free(place);
  }
  memory.HEAPU8.fill(0, end, memory._sbrk(0) - 256); // the last bytes mark the end of the heap
}

/** Zero all free blocks of a size that lie below `end`. */
function zero(size, end, patience, allocate, free) {
  const { below, above } = blocks(size, end, patience, allocate);
  for (const place of [...below, ...above]) free(place);
}

function take(size, end) {
  const { below, above } = blocks(size, end, Math.ceil((size > 4096 ? 300_000 : 30_000) / size), memory._malloc);
  for (const place of above) memory._free(place);
  return below;
}

/** Allocate until `patience` blocks lie above `end`: then none is free below it. */
function blocks(size, end, patience, allocate) {
  const below = [];
  const above = [];
  while (above.length < patience) {
    const place = allocate(size) >>> 0;
    if (place === 0) break;
    if (place + size > end) above.push(place);
    else {
      memory.HEAPU8.fill(0, place, place + size);
      below.push(place);
    }
  }
  return { below, above };
}
