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
const APART = ["./pyodide/*", "./glue.mjs", "./unpack.mjs"]; // made by others, or loaded when it is needed

const pages = (await readdir(join(scripts, "pages"))).filter((name) => name.endsWith(".mjs"));
const paths = [...pages.map((name) => `pages/${name}`), "engine/worker.mjs", "engine/unpack.mjs"];
await build({
  entryPoints: paths.map((path) => ({ in: join(scripts, path), out: basename(path, ".mjs") })),
  external: APART,
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
