/**
 * First of all scripts. A browser with Trusted Types lets HTML in only as it comes from here, and scripts from this site
 * alone; HTML is made by the templates, which escape whatever a visitor typed. Then it starts the worker, before the
 * page's modules are there: `engine.mjs` takes it over, with what it said meanwhile. While the worker comes to life, the
 * browser compiles Pyodide's program for it.
 */
{
  const here = new URL(".", document.baseURI).href;
  /** @type {any} */ (globalThis).trustedTypes?.createPolicy("default", {
    createHTML: (/** @type {string} */ html) => html,
    createScriptURL: (/** @type {string} */ address) => {
      if (!new URL(address, here).href.startsWith(here)) throw new TypeError("scripts come from this site alone");
      return address;
    },
  });
  const worker = new Worker("worker.mjs", { type: "module", name: "begun" });
  /** @type {(MessageEvent | ErrorEvent)[]} */
  const said = [];
  worker.onmessage = (event) => said.push(event);
  worker.onerror = (event) => said.push(event);
  /** @type {any} */ (globalThis).begun = { worker, said };
  const compiled = async () => {
    const address = "pyodide/pyodide.asm.wasm";
    const kept = await self.caches?.match(address, { ignoreSearch: true }).catch(() => undefined); // spares a detour
    return WebAssembly.compileStreaming(kept ?? fetch(address));
  };
  compiled().then(
    (program) => worker.postMessage(program),
    () => worker.postMessage(null), // it then fetches the program itself
  );
}
