/** Registers the service worker once the page has answered, and says when a new version of the site is ready. */

const root = document.documentElement;

class Keeping {
  #asked = false;
  /** @type {Worker | null} */
  #worker = null;
  #banner = newBanner();

  /** @param {Worker} worker which has parts of the site to keep, too */
  of(worker) {
    this.#worker = worker;
  }

  /** Keep the site on this device. A browser that cannot, or may not, goes on without. */
  async keepSite() {
    if (this.#asked || !("serviceWorker" in navigator)) return;
    this.#asked = true;
    document.querySelector("main")?.prepend(this.#banner);
    const controlled = navigator.serviceWorker.controller !== null;
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (controlled) location.reload(); // never one page of two versions; all that was typed is kept
    });
    try {
      const registration = await navigator.serviceWorker.register("sw.js", { updateViaCache: "none" });
      this.#worker?.postMessage("keep");
      this.#watch(registration);
      if (controlled) registration.active?.postMessage("spare");
      root.dataset.offline = "asked";
      await navigator.serviceWorker.ready;
      root.dataset.offline = "ready";
    } catch {
      root.dataset.offline = "none";
    }
  }

  /**
   * The sums did not start: see to it that loading the page anew brings parts that go together. Where the device keeps
   * the site, a newer version is looked for and offered; else the browser's own copies are replaced.
   */
  async renew() {
    if ("serviceWorker" in navigator && navigator.serviceWorker.controller) return this.keepSite();
    const scripts = [...document.scripts].map(({ src }) => src);
    const files = [location.pathname, ...scripts, new URL("worker.mjs", document.baseURI).href];
    await Promise.allSettled(files.map((file) => fetch(file, { cache: "reload" })));
  }

  /** @param {ServiceWorkerRegistration} registration */
  #watch(registration) {
    if (registration.waiting && navigator.serviceWorker.controller) this.#offer(registration.waiting);
    const follow = () => {
      const worker = registration.installing;
      worker?.addEventListener("statechange", () => {
        if (worker.state === "installed" && navigator.serviceWorker.controller) this.#offer(worker);
      });
    };
    registration.addEventListener("updatefound", follow);
    follow(); // it may have been found before anybody listened
  }

  /** @param {ServiceWorker} worker a new version, complete and waiting */
  #offer(worker) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Load it";
    button.addEventListener("click", () => worker.postMessage("use"));
    this.#banner.replaceChildren("A new version of this site is ready; what you typed is kept. ", button);
    this.#banner.hidden = false;
  }
}

function newBanner() {
  const banner = document.createElement("p");
  banner.className = "banner";
  banner.id = "new-version";
  banner.setAttribute("role", "status");
  banner.hidden = true;
  return banner;
}

export const keeping = new Keeping();
