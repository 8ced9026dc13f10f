/**
 * First of all scripts. A browser with Trusted Types lets HTML in only as it comes from here, and scripts from this
 * site alone; HTML is made by the templates, which escape whatever a visitor typed. Then it starts the worker, before
 * the page's modules are there: `engine.mjs` takes it over, with what it said meanwhile. While the worker comes to
 * life, the browser compiles Pyodide's program for it. It also says whether there is something to be opened.
 */
{
  const own = () => Object.keys(localStorage).some((key) => key.startsWith("thistledown.budget."));
  try {
    if (location.hash || own()) document.documentElement.dataset.again = ""; // no room for a newcomer's two choices
  } catch {} // a store that is closed has nothing
  const here = new URL(".", document.baseURI).href;
  /** @type {any} */ (globalThis).trustedTypes?.createPolicy("default", {
    createHTML: (/** @type {string} */ html) => html,
    createScriptURL: (/** @type {string} */ address) => {
      if (!new URL(address, here).href.startsWith(here)) throw new TypeError("scripts come from this site alone");
      return address;
    },
  });
  /** Only what the device keeps is compiled here: it travels packed, and then the worker has to unpack it. */
  const compiled = async () => {
    const answer = crypto.subtle && (await self.caches?.match(document.documentElement.dataset.program ?? ""));
    return answer ? WebAssembly.compileStreaming(answer) : null;
  };
  const lent = compiled(); // before all else: the start waits for it the longest
  const worker = new Worker("worker.mjs", { type: "module", name: "begun" });
  /** @type {(MessageEvent | ErrorEvent)[]} */
  const said = [];
  worker.onmessage = (event) => said.push(event);
  worker.onerror = (event) => said.push(event);
  /** @type {any} */ (globalThis).begun = { worker, said };
  lent.then(
    (program) => worker.postMessage(program),
    () => worker.postMessage(null), // it then fetches the program itself
  );
}
