/**
 * The parts that travel packed. The device keeps them unpacked, since that takes half a second; what is kept is
 * read without asking the service worker, and as a blob: both cost copies of some twenty megabytes.
 *
 * @typedef {PackedPart} Packed its name, its key in a cache, the sums of what it holds
 */
import { checked, isRight, standing } from "./checked.mjs";

const here = new URL(".", import.meta.url);
const XZ = 0xfd; // the first byte of each .xz file: neither a program nor a snapshot begins so
const OURS = `thistledown:${here.pathname}:`; // as `sw.js` names its caches

/** @type {Map<Packed, ArrayBuffer>} what was unpacked and is not kept yet */
const fresh = new Map();

/** @param {Packed} part @returns {string} */
const addressOf = ({ path }) => new URL(path, here).href;
/** @param {Packed} part @returns {string} under which the service worker keeps it */
const keyOf = (part) => `${addressOf(part)}?${part.key}`;

/** @param {Packed} part @returns {Promise<ArrayBuffer>} what it holds, checked */
export function unpacked(part) {
  return checked(addressOf(part), part.sums, async (cache) => {
    const kept = await self.caches?.match(keyOf(part)).catch(() => undefined);
    const answer = kept ?? (await fetch(addressOf(part), { cache }));
    if (!answer.ok || !answer.body) throw new Error(`${part.path}: ${answer.status}`);
    const blob = kept && (await kept.blob());
    if (blob && new Uint8Array(await blob.slice(0, 1).arrayBuffer())[0] !== XZ) return blob.arrayBuffer();
    const { unpack } = await import("./unpack.mjs");
    const bytes = await unpack(blob?.stream() ?? answer.body);
    fresh.set(part, bytes);
    return bytes;
  });
}

/** @param {Packed} part @returns {Promise<ArrayBuffer | null>} what the device keeps unpacked, if it is right */
export async function keptRight(part) {
  const kept = await self.caches?.match(keyOf(part));
  const bytes = await (await kept?.blob())?.arrayBuffer();
  return bytes && (await isRight(bytes, part.sums)) ? bytes : null;
}

/**
 * Put what was unpacked in the place of what is kept packed; before the service worker keeps anything, into a cache of
 * its own, from which the service worker takes it.
 */
export async function keep() {
  if (!self.caches) return;
  for (const [part, bytes] of fresh) {
    const places = await standing(addressOf(part));
    const key = new Request(keyOf(part));
    if (places.length === 0) places.push({ cache: await caches.open(`${OURS}unpacked`), key });
    for (const { cache, key } of places) await cache.put(key, asKept(part, bytes));
  }
  fresh.clear();
}

/** @param {Packed} part @param {ArrayBuffer} bytes */
function asKept({ path }, bytes) {
  const type = path.startsWith("program-") ? "application/wasm" : "application/octet-stream";
  return new Response(bytes, { headers: { "content-type": type } });
}
