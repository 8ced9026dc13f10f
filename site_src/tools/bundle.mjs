// Bundles the modules of each page, and those of the worker, into one file: node bundle.mjs SCRIPTS TARGET DEFINED
//
// A page then asks for one script and not for thirty: that of its name in SCRIPTS/pages. Pyodide's own files stay as
// they are. DEFINED, JSON, are names that the scripts use and what stands for each.
import { readdir } from "node:fs/promises";
import { basename, join } from "node:path";
import { build } from "esbuild";

const [scripts, target, defined = "{}"] = process.argv.slice(2);
const names = Object.entries(JSON.parse(defined));
const define = Object.fromEntries(names.map(([name, value]) => [name, JSON.stringify(value)]));
const STARTS = ["restore.mjs", "lent.mjs", "unpack.mjs"]; // the worker loads them when it needs them
const MADE = ["./pyodide/*", "./start.mjs", "./glue.mjs", "./unpack.mjs"]; // by others, later in the build, or apart

/** @param {string[]} paths below SCRIPTS @param {string[]} external what stays a file of its own */
function bundle(paths, external) {
  return build({
    entryPoints: paths.map((path) => ({ in: join(scripts, path), out: basename(path, ".mjs") })),
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

const pages = (await readdir(join(scripts, "pages"))).filter((name) => name.endsWith(".mjs"));
const starts = STARTS.map((name) => `engine/${name}`);
const external = [...MADE, ...STARTS.map((name) => `./${name}`)];
await bundle([...pages.map((name) => `pages/${name}`), "engine/worker.mjs"], external);
await bundle(starts, MADE);
