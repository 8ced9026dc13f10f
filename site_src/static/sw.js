/**
 * The service worker: keeps the whole site on the device, each file by the hash of its content, and serves it from
 * there. A version is complete before it is used, and a page keeps the version it was opened with until it is loaded
 * anew. `precache.js` is made by the build: the version, the files, and those that only the plain start needs.
 *
 * Classic, not a module: every browser that has service workers runs those.
 */
importScripts("precache.js");

const { VERSION, FILES, SPARE } = self.PRECACHE;
const CACHE = `thistledown-${VERSION}`;
const scope = new URL(self.registration.scope);

/** The key of a file in a cache: its path with the hash of its content. */
const keyOf = ([path, hash]) => new URL(`${path}?${hash}`, scope).href;

/** Put a file into the cache: from a cache that has this very content, else from the network, checked. */
async function keep(cache, file) {
  const key = keyOf(file);
  if (await cache.match(key)) return;
  const had = await caches.match(key);
  await cache.put(key, had ?? ready(file, await fetched(file)));
}

/** The snapshot is kept inflated: a visit then begins without that work. */
function ready([path], answer) {
  if (!/snapshot-[0-9a-f]+\.bin$/.test(path) || answer.headers.get("content-encoding")) return answer;
  return new Response(answer.body.pipeThrough(new DecompressionStream("gzip")), { headers: { "content-type": "application/octet-stream" } });
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
      for (const name of await caches.keys()) if (name.startsWith("thistledown-") && name !== CACHE) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "use") self.skipWaiting();
  if (event.data === "spare") event.waitUntil(keepAll(SPARE).catch(() => {})); // next time, then
});

let opened;
const match = async (file) => (await (opened ??= caches.open(CACHE))).match(keyOf(file));
const byPath = new Map([...FILES, ...SPARE].map((file) => [new URL(file[0], scope).pathname, file]));

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== scope.origin) return;
  const file = byPath.get(address.pathname === scope.pathname ? `${scope.pathname}index.html` : address.pathname);
  if (file) event.respondWith(match(file).then((kept) => kept ?? fetch(event.request)));
});
