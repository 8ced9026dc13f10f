/** Registers the service worker once the page has answered, and says when a new version of the site is ready. */

const WORKERS = ["worker.mjs", "restore.mjs", "lent.mjs", "start.mjs"];
const banner = document.createElement("p");
banner.className = "banner";
banner.id = "new-version";
banner.setAttribute("role", "status");
banner.hidden = true;

/** @param {ServiceWorker} worker a new version, complete and waiting */
function offer(worker) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Load it";
  button.addEventListener("click", () => worker.postMessage("use"));
  banner.replaceChildren("A new version of this site is ready; what you typed is kept. ", button);
  banner.hidden = false;
}

/** @param {ServiceWorkerRegistration} registration */
function watch(registration) {
  if (registration.waiting && navigator.serviceWorker.controller) offer(registration.waiting);
  const follow = () => {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => {
      if (worker.state === "installed" && navigator.serviceWorker.controller) offer(worker);
    });
  };
  registration.addEventListener("updatefound", follow);
  follow(); // it may have been found before anybody listened
}

let asked = false;

/**
 * The sums did not start: see to it that loading the page anew brings parts that go together. Where the device keeps the
 * site, a newer version is looked for and offered; else the browser's own copies are replaced.
 */
export async function renew() {
  if ("serviceWorker" in navigator && navigator.serviceWorker.controller) return keepSite();
  const scripts = [...document.scripts].map(({ src }) => src);
  const files = [location.pathname, ...scripts, ...WORKERS.map((name) => new URL(name, document.baseURI).href)];
  await Promise.allSettled(files.map((file) => fetch(file, { cache: "reload" })));
}

/** Keep the site on this device. A browser that cannot, or may not, goes on without. */
export async function keepSite() {
  if (asked || !("serviceWorker" in navigator)) return;
  asked = true;
  document.querySelector("main")?.prepend(banner);
  const controlled = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (controlled) location.reload(); // never one page of two versions; all that was typed is kept
  });
  try {
    const registration = await navigator.serviceWorker.register("sw.js", { updateViaCache: "none" });
    watch(registration);
    if (controlled) registration.active?.postMessage("spare");
    document.documentElement.dataset.offline = "asked";
    await navigator.serviceWorker.ready;
    document.documentElement.dataset.offline = "ready";
  } catch {
    document.documentElement.dataset.offline = "none";
  }
}
