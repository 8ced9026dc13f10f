/** The worker: starts Python in named stages, then answers JSON text with JSON text. */
import { loadPyodide } from "./pyodide/pyodide.mjs";

/** @param {"stage" | "ready" | "failed"} event @param {string} text */
function tell(event, text) {
  self.postMessage(JSON.stringify({ v: 1, event, text }));
}

/** @returns {Promise<(text: string) => string>} */
async function start() {
  tell("stage", "fetching the sums");
  const here = new URL(".", import.meta.url);
  const [python, archive] = await Promise.all([
    loadPyodide({ indexURL: new URL("pyodide/", here).href }),
    fetch(new URL("app.zip", here)).then((answer) => {
      if (!answer.ok) throw new Error(`app.zip: ${answer.status}`);
      return answer.arrayBuffer();
    }),
  ]);
  tell("stage", "setting up the sums");
  python.unpackArchive(archive, "zip", { extractDir: "/app" });
  python.runPython("import sys; sys.path.insert(0, '/app')");
  return python.pyimport("site_src.app.bridge").handle;
}

const started = start();
started.then(
  () => tell("ready", ""),
  (error) => tell("failed", String(error?.message ?? error)),
);

self.onmessage = async (event) => {
  try {
    const handle = await started;
    self.postMessage(handle(event.data));
  } catch (error) {
    const id = JSON.parse(event.data).id;
    const message = `The sums stopped: ${String(error).slice(0, 200)}. Load the page anew; what you typed is kept.`;
    self.postMessage(JSON.stringify({ v: 1, id, ok: false, errors: [{ code: "inside", field: "", message, facts: {} }] }));
  }
};
