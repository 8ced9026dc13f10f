/**
 * The parts that travel packed. The device keeps them unpacked, since that takes a good half second; what is kept is read
 * without asking the service worker, and as a blob: both cost copies of some twenty megabytes.
 */
import { checked, standing } from "./checked.mjs";

const here = new URL(".", import.meta.url);
const XZ = 0xfd; // the first byte of each .xz file: neither a program nor a snapshot begins so
const OURS = `thistledown:${here.pathname}:`; // as `sw.js` names its caches

/** @type {Map<string, ArrayBuffer>} by path, what was unpacked and is not kept yet */
const fresh = new Map();

/**
 * @param {string} path from the folder of the site @param {import("./checked.mjs").Sums | undefined} sums of what is unpacked
 * @returns {Promise<ArrayBuffer>} what it holds, checked
 */
export function unpacked(path, sums) {
  const address = new URL(path, here).href;
  return checked(address, sums, async (cache) => {
    const kept = await self.caches?.match(address, { ignoreSearch: true }).catch(() => undefined);
    const answer = kept ?? (await fetch(address, { cache }));
    if (!answer.ok || !answer.body) throw new Error(`${path}: ${answer.status}`);
    const blob = kept && (await kept.blob());
    if (blob && new Uint8Array(await blob.slice(0, 1).arrayBuffer())[0] !== XZ) return blob.arrayBuffer();
    const { unpack } = await import("./unpack.mjs");
    const bytes = await unpack(blob?.stream() ?? answer.body);
    fresh.set(path, bytes);
    return bytes;
  });
}

/**
 * Put what was unpacked in the place of what is kept packed; before the service worker keeps anything, into a cache of
 * its own, from which the service worker takes it.
 * @param {Record<string, string>} keys by path, what the service worker puts behind it
 */
export async function keep(keys) {
  if (!self.caches) return;
  for (const [path, bytes] of fresh) {
    const address = new URL(path, here).href;
    const places = await standing(address);
    const key = new Request(`${address}?${keys[path]}`);
    if (places.length === 0) places.push({ cache: await caches.open(`${OURS}unpacked`), key });
    for (const { cache, key } of places) await cache.put(key, asKept(path, bytes));
  }
  fresh.clear();
}

/** @param {string} path @param {ArrayBuffer} bytes */
function asKept(path, bytes) {
  const type = path.startsWith("program-") ? "application/wasm" : "application/octet-stream";
  return new Response(bytes, { headers: { "content-type": type } });
}
