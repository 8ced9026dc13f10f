/**
 * The service worker: keeps the whole site on the device, each file by the hash of its content, and serves it from
 * there. A version is complete before it is used, and a page keeps the version it was opened with until it is loaded
 * anew. `precache.js` is made by the build: the version, the files, and those that only the plain start needs.
 *
 * Classic, not a module: every browser that has service workers runs those.
 */
importScripts("precache.js");

const { VERSION, FILES, SPARE } = self.PRECACHE;
const scope = new URL(self.registration.scope);
const OURS = `thistledown:${scope.pathname}:`; // another copy on the same host has caches of its own
const CACHE = OURS + VERSION;
const AS_BEFORE = /^thistledown-[0-9a-f]{16}$/; // names that earlier editions gave, whatever the copy

/** The key of a file in a cache: its path with the hash of its content. */
const keyOf = ([path, hash]) => new URL(`${path}?${hash}`, scope).href;

/**
 * Put a file into the cache: from a cache that has this very content, else from the network, checked. Snapshot and
 * program travel packed; `unpacked.mjs` leaves them unpacked under the same key.
 */
async function keep(cache, file) {
  const key = keyOf(file);
  if (await cache.match(key)) return;
  const had = await caches.match(key);
  await cache.put(key, clean(had ?? (await fetched(file))));
}

/**
 * An answer that came by a detour (`finder.html` to `finder`) as if it had come straight: else no page may be opened
 * with it.
 */
function clean(answer) {
  if (!answer.redirected) return answer;
  return new Response(answer.body, { status: answer.status, headers: answer.headers });
}

async function fetched([path, hash]) {
  const answer = await fetch(new URL(path, scope), { cache: "no-cache" });
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await answer.clone().arrayBuffer()));
  const found = [...digest.subarray(0, 8)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  if (found !== hash) throw new Error(`${path} is of another version`);
  return answer;
}

async function keepAll(files) {
  const cache = await caches.open(CACHE);
  for (const file of files) await keep(cache, file);
}

self.addEventListener("install", (event) => event.waitUntil(keepAll(FILES)));

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== CACHE && (await isOurs(name))) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

/** Whether a cache is of this copy of the site: by its name, or by what it holds where it has an old name. */
async function isOurs(name) {
  if (!AS_BEFORE.test(name)) return name.startsWith(OURS);
  const keys = await (await caches.open(name)).keys();
  return keys.some(({ url }) => new URL(url).pathname === `${scope.pathname}index.html`);
}

self.addEventListener("message", (event) => {
  if (event.data === "use") self.skipWaiting();
  if (event.data === "spare") event.waitUntil(keepAll(SPARE).catch(() => {})); // next time, then
});

/** The addresses of a file: hosts leave `.html` out, and serve `index.html` for its folder. */
function* spellings([path]) {
  const { pathname } = new URL(path, scope);
  yield pathname;
  if (pathname.endsWith(".html")) yield pathname.slice(0, -".html".length);
  if (pathname.endsWith("/index.html")) yield pathname.slice(0, -"index.html".length);
}

const byPath = new Map([...FILES, ...SPARE].flatMap((file) => [...spellings(file)].map((path) => [path, file])));

/** From the cache, else from the network; what is gone from the cache is kept anew, for the next time. */
async function served(event, file) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(keyOf(file));
  if (kept) return clean(kept);
  if (FILES.includes(file)) event.waitUntil(refilling.refill());
  return fetch(event.request);
}

/** Keeps again whatever is missing: the browser, or a visitor, may have cleared the caches. */
const refilling = {
  underWay: undefined,
  refill() {
    this.underWay ??= keepAll(FILES)
      .catch(() => {}) // next time, then
      .finally(() => {
        this.underWay = undefined;
      });
    return this.underWay;
  },
};

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== scope.origin) return;
  const file = byPath.get(address.pathname);
  if (file) event.respondWith(served(event, file));
});
