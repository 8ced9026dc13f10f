/** Registers the service worker once the page has answered, and says when a new version of the site is ready. */

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
  registration.addEventListener("updatefound", () => {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => {
      if (worker.state === "installed" && navigator.serviceWorker.controller) offer(worker);
    });
  });
}

/** Keep the site on this device. A browser that cannot, or may not, goes on without. */
export async function keepSite() {
  if (!("serviceWorker" in navigator)) return;
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
