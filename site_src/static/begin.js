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
  const worker = new Worker("worker.mjs", { type: "module", name: "begun" });
  /** @type {(MessageEvent | ErrorEvent)[]} */
  const said = [];
  worker.onmessage = (event) => said.push(event);
  worker.onerror = (event) => said.push(event);
  /** @type {any} */ (globalThis).begun = { worker, said };
  const compiled = async () => {
    // Only what the device keeps is compiled here: it travels packed, and then the worker has to unpack it.
    const address = document.documentElement.dataset.program;
    if (!crypto.subtle) return null;
    // One to compile and one to sum up: of a copy of the first all would pass through this page's one thread.
    const [answer, same] = await Promise.all([self.caches?.match(address ?? ""), self.caches?.match(address ?? "")]);
    if (!answer || !same) return null;
    const [hash, program] = await Promise.all([hashOf(await same.blob()), WebAssembly.compileStreaming(answer)]);
    return { program, hash };
  };
  /** The worker compares it with what the build wrote down. */
  const hashOf = async (/** @type {Blob} */ kept) => {
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await kept.arrayBuffer()));
    return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  };
  compiled().then(
    (lent) => worker.postMessage(lent),
    () => worker.postMessage(null), // it then fetches the program itself
  );
}
