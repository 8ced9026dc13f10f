/**
 * The parts of the program, each checked by the sums that the build wrote down: what the device keeps may be damaged,
 * and a host may hold another edition by now. A part that is wrong is taken out of what is kept and asked for once
 * more, past all caches; what comes then stands in its place.
 *
 * Plain http, where the page is no secure context, has neither SHA-256 nor kept copies: there a CRC-32 of all bytes
 * finds damage. Whoever would forge a part there could forge this file as well.
 *
 * @typedef {[sha256: string, crc32: number]} Sums of a part as it is used: of the snapshot, inflated
 */
const here = new URL(".", import.meta.url).href;
const KEY_LETTERS = 16; // of a hash in the key of a kept file, as `sw.js` counts them
const POLYNOMIAL = 0xedb88320; // CRC-32 as in gzip (RFC 1952, section 8), its bits in reverse

/** @param {string} address @returns {string} */
const pathOf = (address) => address.slice(here.length);

/** @param {ArrayBuffer} bytes @param {Sums | undefined} sums @returns {Promise<boolean>} */
export async function isRight(bytes, sums) {
  if (!sums) return false;
  if (!crypto.subtle) return crc32(new Uint8Array(bytes)) === sums[1];
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)); // FIPS 180-4
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("") === sums[0];
}

/** @param {Uint8Array} bytes @returns {number} as zlib's `crc32` counts it */
function crc32(bytes) {
  const table = Int32Array.from({ length: 256 }, (_, byte) => {
    let rest = byte;
    for (let bit = 0; bit < 8; bit++) rest = (rest >>> 1) ^ (rest & 1 ? POLYNOMIAL : 0);
    return rest;
  });
  let sum = -1;
  for (const byte of bytes) sum = (sum >>> 8) ^ /** @type {number} */ (table[(sum ^ byte) & 255]);
  return ~sum >>> 0;
}

/**
 * Find the copies of a part in all that this edition keeps on the device; another one's copies are its own.
 * @param {string} address @returns {Promise<{cache: Cache, key: Request}[]>} where they stand
 */
export async function standing(address) {
  const [sha256 = ""] = PARTS[pathOf(address)] ?? []; // none of snapshot and program: their names tell their edition
  const found = [];
  for (const name of (await self.caches?.keys()) ?? []) {
    const cache = await caches.open(name);
    for (const key of await cache.keys(address, { ignoreSearch: true })) {
      if (key.url.endsWith(`?${sha256.slice(0, KEY_LETTERS)}`) || !sha256) found.push({ cache, key });
    }
  }
  return found;
}

/** @param {string} address @returns {Promise<{cache: Cache, key: Request}[]>} where its copies stood */
async function takeOut(address) {
  const stood = await standing(address);
  for (const { cache, key } of stood) await cache.delete(key);
  return stood;
}

/**
 * @param {string} address @param {Sums | undefined} sums what it must have
 * @param {(cache: RequestCache) => Promise<ArrayBuffer>} read @param {string} [type] its MIME type, for a kept copy
 * @returns {Promise<ArrayBuffer>} what it reads, checked
 */
export async function checked(address, sums, read, type = "application/octet-stream") {
  const right = async (/** @type {RequestCache} */ cache) => {
    const bytes = await read(cache);
    return (await isRight(bytes, sums)) ? bytes : null;
  };
  const first = await right("default").catch(() => null); // what cannot even be read may be damaged, too
  if (first) return first;
  const stood = await takeOut(address).catch(() => []);
  const second = await right("reload");
  if (!second) throw new Error(`${pathOf(address)} is damaged, or of another edition of this site: load the page anew`);
  for (const { cache, key } of stood) {
    cache.put(key, new Response(second, { headers: { "content-type": type } })).catch(() => {}); // next time, then
  }
  return second;
}

/**
 * Fetch a part of the program, checked.
 * @param {string} address
 * @param {typeof fetch} [ask]
 * @returns {Promise<Response>}
 */
export async function fetchChecked(address, ask = fetch) {
  const type = address.endsWith(".wasm") ? "application/wasm" : "application/octet-stream";
  const read = async (/** @type {RequestCache} */ cache) => {
    const answer = await ask(address, { cache });
    if (!answer.ok) throw new Error(`${pathOf(address)}: ${answer.status}`);
    return answer.arrayBuffer();
  };
  return new Response(await checked(address, PARTS[pathOf(address)], read, type), {
    headers: { "content-type": type },
  });
}

/** @param {string} address @returns {boolean} whether the build wrote down sums of it */
export const isPart = (address) => pathOf(address) in PARTS;
