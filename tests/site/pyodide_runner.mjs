// Loads Pyodide and the site's archive under node as the worker does in a browser; then answers each line of standard
// input (a JSON text holding a request) with a line of standard output (a JSON text holding the answer).
import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const [pyodideFolder, archivePath] = process.argv.slice(2).map((path) => resolve(path));
const { loadPyodide } = await import(pathToFileURL(`${pyodideFolder}/pyodide.mjs`).href);
const python = await loadPyodide({ indexURL: `${pyodideFolder}/` });
python.unpackArchive(new Uint8Array(await readFile(archivePath)), "zip", { extractDir: "/app" });
python.runPython("import sys; sys.path.insert(0, '/app')");
const handle = python.pyimport("site_src.app.bridge").handle;
for await (const line of createInterface({ input: process.stdin })) {
  process.stdout.write(`${JSON.stringify(handle(JSON.parse(line)))}\n`);
}
