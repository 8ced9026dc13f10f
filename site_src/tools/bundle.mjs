// Bundles the modules of each page, and those of the worker, into one file: node bundle.mjs SCRIPTS TARGET DEFINED
//
// A page then asks for one script and not for sixteen. Pyodide's own files stay as they are. DEFINED, JSON, are names that
// the scripts use and what stands for each.
import { join } from "node:path";
import { build } from "esbuild";

const [scripts, target, defined = "{}"] = process.argv.slice(2);
const define = Object.fromEntries(Object.entries(JSON.parse(defined)).map(([name, value]) => [name, JSON.stringify(value)]));
const PAGES = ["client.mjs", "boxpage.mjs", "finderpage.mjs", "fitspage.mjs", "comparepage.mjs", "stock.mjs"];
const STARTS = ["restore.mjs", "lent.mjs"]; // the worker loads the one, or if that fails the other
const MADE = ["./pyodide/*", "./start.mjs"]; // by others, or later in the build

/** @param {string[]} names @param {string[]} external what stays a file of its own */
function bundle(names, external) {
  return build({
    entryPoints: names.map((name) => join(scripts, name)),
    external,
    define,
    outdir: target,
    outExtension: { ".js": ".mjs" },
    bundle: true,
    format: "esm",
    target: "es2024",
    minifyWhitespace: true,
    legalComments: "none",
    logLevel: "error",
  });
}

await bundle([...PAGES, "worker.mjs"], [...MADE, ...STARTS.map((name) => `./${name}`)]);
await bundle(STARTS, MADE);
