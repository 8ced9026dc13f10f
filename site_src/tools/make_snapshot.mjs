// Makes the memory snapshot: node make_snapshot.mjs PYODIDE_FOLDER APP_ZIP TARGET ASKED INSIDE_PY ...; prints numbers.
//
// The folder holds the program with a mark in each function (wasm.py, `counting`): printed are the numbers of those that
// ran when what was kept answered the requests of the warm-up. TARGET.whole is the snapshot as Pyodide makes it, for `count_functions.mjs`.
//
// The target, which snapshot.py packs, is 32-bit words: the lengths of Pyodide's header, of the list of changes and of
// the list of stretches, and where the last begin; that header; where the program's static data differs from the data
// in pyodide.asm.wasm (which a visitor has already), as steps from change to change, then the new words; the memory
// from the top of the stack on in stretches, as the zeros before each and its length, then the words of all.
// `restore.mjs` puts that together again: far less to inflate, to read and to copy than the whole memory, of which four
// tenths are zeros that stand together. What lies in the stack beyond its top means nothing.
import { readFile, writeFile } from "node:fs/promises";
import { basename, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { Marks } from "./marks.mjs";

const OFTEN = 10; // objects more, until garbage is collected; Python's own is 2000
const SPARED = 16; // words: shorter runs of zeros are cheaper kept than skipped

const TOOLS = "/app/site_src/tools"; // what runs inside, and is taken out again
const ASKED = "/asked.txt"; // the requests of the warm-up, a line each; in memory that is not Python's

const [folder, archive, target, hostile, ...inside] = process.argv.slice(2).map((path) => resolve(path));
process.argv.length = 1; // Python keeps the name that it was started by, and it would travel
const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`).href);
const { default: factory } = await import(pathToFileURL(`${folder}/pyodide.asm.mjs`).href);

// The same snapshot from the same files, whenever it is made: the clock stands still.
Date.now = () => 0;
performance.now = () => 0;

const lock = { info: JSON.parse(await readFile(`${folder}/pyodide-lock.json`, "utf8")).info, packages: {} };
const marks = new Marks();
let initial = new Uint32Array();
let exports;
const python = await loadPyodide({
  indexURL: `${folder}/`,
  lockFileContents: JSON.stringify(lock),
  env: { PYTHONHASHSEED: "0" }, // for the same reason
  _makeSnapshot: true,
  createPyodideModule: (settings) => {
    const { instantiateWasm } = settings;
    settings.instantiateWasm = (imports, receive) =>
      instantiateWasm(imports, (instance, module) => {
        initial = new Uint32Array(instance.exports.memory.buffer).slice();
        exports = instance.exports;
        return receive({ exports: marks.takenOutOf(instance.exports) }, module);
      });
    return factory(settings);
  },
});
const memory = python._module;

python.unpackArchive(new Uint8Array(await readFile(archive)), "zip", { extractDir: "/app" });
python.runPython("import sys; sys.path.insert(0, '/app')");
python.FS.mkdirTree(TOOLS);
for (const path of inside) python.FS.writeFile(`${TOOLS}/${basename(path)}`, await readFile(path));
python.runPython(`
  from site_src.tools import snapshot_inside, warm_up
  snapshot_inside.trace(${exports.__heap_base.value}, '${ASKED}')
  snapshot_inside.lighten(${exports.__heap_base.value})
`);
const requests = python.FS.readFile(ASKED, { encoding: "utf8" }).trim().split("\n");
python.FS.unlink(ASKED);
python.runPython(`
  import sys, site_src
  for name in [name for name in sys.modules if name.startswith("site_src.tools")]: del sys.modules[name]
  del site_src.tools, snapshot_inside, warm_up, name
`);
python.runPython("import gc; gc.collect()");
zeroFreed();

const whole = python.makeMemorySnapshot();
await writeFile(target, packing(new Uint32Array(whole.buffer)));
await writeFile(`${target}.whole`, whole);
marks.forget();
await answerAll();
marks.note();
console.log(JSON.stringify(marks.noted));
process.exit(0);

/** Answer the requests of the warm-up once more, as a visitor's Python would, and what is hostile. */
async function answerAll() {
  const { handle } = python.pyimport("site_src.app.bridge");
  const { collect, freeze, set_threshold: setThreshold } = python.pyimport("gc");
  collect(); // it walks through whatever a visitor's Python may walk through
  freeze(); // then through what is there for a moment only: garbage may be collected amid each line
  setThreshold(OFTEN);
  const ignored = () => {}; // what goes ahead of an answer
  const numbers = { search: 0, log: 0 }; // of searches and of logs: others than they had in the warm-up
  const all = [...requests.map((text) => JSON.parse(text)), ...JSON.parse(await readFile(hostile, "utf8"))];
  for (const request of all) {
    for (const key of Object.keys(numbers)) if (key in request.params) request.params[key] = numbers[key];
    const { result = {} } = JSON.parse(handle(JSON.stringify(request), ignored));
    for (const key of Object.keys(numbers)) numbers[key] = result[key] ?? numbers[key];
  }
  collect();
}

/** Return the words of the file. @param {Uint32Array} snapshot */
function packing(snapshot) {
  const start = snapshot[1] >> 2; // Pyodide's header, then the memory
  const words = snapshot.subarray(start);
  const top = exports.emscripten_stack_get_current() >> 2;
  const gaps = [];
  const changed = [];
  for (let at = 0, last = 0; at < exports.__stack_low.value >> 2; at++) {
    if (words[at] === initial[at]) continue;
    gaps.push(at - last);
    changed.push(words[at]);
    last = at;
  }
  const stretches = stretchesOf(words, top);
  const zeros = stretches.map(({ from }, index) => from - (index > 0 ? stretches[index - 1].end : top));
  const kept = stretches.map(({ from, end }) => words.subarray(from, end));
  const lengths = kept.map(({ length }) => length);
  const lists = [start, gaps.length, stretches.length, top];
  return joined([lists, snapshot.subarray(0, start), gaps, changed, zeros, lengths, ...kept]);
}

/**
 * Return where words other than zero stand, with the shorter runs of zeros between.
 * @param {Uint32Array} words
 * @param {number} first
 */
function stretchesOf(words, first) {
  const stretches = [];
  let last;
  for (let at = first; at < words.length; at++) {
    if (words[at] === 0) continue;
    if (last === undefined || at - last.end >= SPARED) {
      last = { from: at, end: at };
      stretches.push(last);
    }
    last.end = at + 1;
  }
  return stretches;
}

/** @param {ArrayLike<number>[]} parts */
function joined(parts) {
  const all = new Uint32Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

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
