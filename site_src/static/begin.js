/** Starts the worker before the page's modules are there. `engine.mjs` takes it over, with what it said meanwhile. */
{
  const worker = new Worker("worker.mjs", { type: "module" });
  /** @type {(MessageEvent | ErrorEvent)[]} */
  const said = [];
  worker.onmessage = (event) => said.push(event);
  worker.onerror = (event) => said.push(event);
  /** @type {any} */ (globalThis).begun = { worker, said };
}
