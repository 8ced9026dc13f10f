// Counts which functions of Pyodide's program run in a start: node count_functions.mjs PYODIDE_FOLDER SNAPSHOT; prints
// their numbers among the bodies, as JSON.
//
// The folder holds the program with a mark in each function (wasm.py, `counting`). Python starts from the snapshot, as
// it does in a visitor's browser, and answers. Then it is out of memory once, and last it dies: what runs when something
// goes wrong is needed, too.
import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { Marks } from "./marks.mjs";

const TOO_MUCH = 2 ** 31; // bytes

const [folder, snapshot] = process.argv.slice(2).map((path) => resolve(path));
const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`).href);
const { default: factory } = await import(pathToFileURL(`${folder}/pyodide.asm.mjs`).href);
const info = JSON.parse(await readFile(`${folder}/pyodide-lock.json`, "utf8")).info;
const whole = await readFile(snapshot);
const marks = new Marks();
const python = await loadPyodide({
  indexURL: `${folder}/`,
  lockFileContents: JSON.stringify({ info, packages: {} }),
  _loadSnapshot: whole,
  createPyodideModule: async (settings) => {
    const { instantiateWasm } = settings;
    settings.instantiateWasm = (imports, receive) =>
      instantiateWasm(imports, (instance, module) => receive({ exports: marks.takenOutOf(instance.exports) }, module));
    const module = await factory(settings);
    module.growMemory(whole.length); // Pyodide ignores the size it is told to start with (pyodide issue 6254)
    return module;
  },
});
python.pyimport("random").seed();
const { handle } = python.pyimport("site_src.app.bridge");
handle(JSON.stringify({ v: 1, id: 0, method: "answer", params: { document: {} } }), () => {});
const { bytearray, list, map } = python.pyimport("builtins");
attempt(() => bytearray(TOO_MUCH));
const quiet = console.error;
console.error = () => {};
attempt(() =>
  list(
    map(() => {
      throw new WebAssembly.RuntimeError("unreachable");
    }, [1]),
  ),
);
python._module._dump_traceback();
console.error = quiet;
marks.note();
console.log(JSON.stringify(marks.noted));
process.exit(0);

/** @param {() => void} act what must fail */
function attempt(act) {
  try {
    act();
  } catch {
    return;
  }
  throw new Error("what had to go wrong went well");
}
