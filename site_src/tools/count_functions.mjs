// Counts which functions of Pyodide's program run: node count_functions.mjs PYODIDE_FOLDER SNAPSHOT ASKED; prints their
// numbers among the bodies, as JSON.
//
// The folder holds the program with a mark in each function (wasm.py, `counting`). Python starts from the snapshot, as
// it does in a visitor's browser, and answers the requests of the warm-up. Then it is out of memory once, and last it
// dies: what runs when something goes wrong is needed, too.
import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const MARK = "ran "; // as in wasm.py
const TOO_MUCH = 2 ** 31; // bytes

const [folder, snapshot, asked] = process.argv.slice(2).map((path) => resolve(path));
const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`).href);
const { default: factory } = await import(pathToFileURL(`${folder}/pyodide.asm.mjs`).href);
const info = JSON.parse(await readFile(`${folder}/pyodide-lock.json`, "utf8")).info;
const whole = await readFile(snapshot);
const marks = [];
const python = await loadPyodide({
  indexURL: `${folder}/`,
  lockFileContents: JSON.stringify({ info, packages: {} }),
  _loadSnapshot: whole,
  createPyodideModule: async (settings) => {
    const { instantiateWasm } = settings;
    settings.instantiateWasm = (imports, receive) =>
      instantiateWasm(imports, (instance, module) => receive({ exports: withoutMarks(instance.exports) }, module));
    const module = await factory(settings);
    module.growMemory(whole.length); // Pyodide ignores the size it is told to start with (pyodide issue 6254)
    return module;
  },
});
python.pyimport("random").seed();
const { handle } = python.pyimport("site_src.app.bridge");
let search = 0; // a search has another number than it had in the warm-up
for (const text of JSON.parse(await readFile(asked, "utf8"))) {
  const request = JSON.parse(text);
  if ("search" in request.params) request.params.search = search;
  const answer = JSON.parse(handle(JSON.stringify(request)));
  search = answer.result?.search ?? search;
}
const { bytearray, list, map } = python.pyimport("builtins");
attempt(() => bytearray(TOO_MUCH));
const quiet = console.error;
console.error = () => {};
attempt(() => list(map(() => { throw new WebAssembly.RuntimeError("unreachable"); }, [1])));
console.error = quiet;
console.log(JSON.stringify(marks.flatMap((mark, number) => (mark.value ? [number] : []))));
process.exit(0);

/** Take the marks out of what a program exports. @param {WebAssembly.Exports} exports */
function withoutMarks(exports) {
  const own = {};
  for (const [name, value] of Object.entries(exports)) {
    if (name.startsWith(MARK)) marks[Number(name.slice(MARK.length))] = value;
    else own[name] = value;
  }
  return own;
}

/** @param {() => void} act what must fail */
function attempt(act) {
  try {
    act();
  } catch {
    return;
  }
  throw new Error("what had to go wrong went well");
}
