/**
 * The parts of the program, each checked by the hash that the build wrote down (`start.mjs`): what the device keeps may be
 * damaged, and a host may hold another version by now. A part that is wrong is taken out of what is kept and asked for
 * once more past all caches. Where the browser counts no hashes (http without a secure context) nothing is checked.
 */
const here = new URL(".", import.meta.url).href;

/** @type {Promise<Record<string, string>>} by path below the site; none where `start.mjs` is absent */
const hashes = import("./start.mjs").then(({ HASHES }) => HASHES ?? {}, () => ({}));

/** @param {string} address @returns {string} */
const pathOf = (address) => address.slice(here.length);

/** @param {ArrayBuffer} bytes @returns {Promise<string>} SHA-256 (FIPS 180-4), in hexadecimal digits; "" if it is not to be had */
async function hashOf(bytes) {
  if (!globalThis.crypto?.subtle) return "";
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** @param {string} address @param {string} hash @returns {Promise<boolean>} whether it is not known to be wrong */
export async function isRight(address, hash) {
  const wanted = (await hashes)[pathOf(address)];
  return !wanted || !hash || wanted === hash;
}

/** Take a part out of all that is kept on the device. @param {string} address */
export async function forget(address) {
  const names = (await self.caches?.keys().catch(() => [])) ?? [];
  await Promise.all(names.map(async (name) => (await caches.open(name)).delete(address, { ignoreSearch: true })));
}

/**
 * @param {string} address
 * @param {(cache: RequestCache) => Promise<ArrayBuffer>} read @returns {Promise<ArrayBuffer>} what it reads, checked
 */
export async function checked(address, read) {
  const right = async (/** @type {RequestCache} */ cache) => {
    const bytes = await read(cache);
    return (await isRight(address, await hashOf(bytes))) ? bytes : null;
  };
  const first = await right("default").catch(() => null); // what cannot even be read may be damaged, too
  if (first) return first;
  await forget(address);
  const second = await right("reload");
  if (second) return second;
  throw new Error(`${pathOf(address)} is damaged, or of another version of this site`);
}

/** Fetch a part of the program, checked. @param {string} address @param {typeof fetch} [ask] @returns {Promise<Response>} */
export async function fetchChecked(address, ask = fetch) {
  let headers;
  const bytes = await checked(address, async (cache) => {
    const answer = await ask(address, { cache });
    if (!answer.ok) throw new Error(`${pathOf(address)}: ${answer.status}`);
    headers = { "content-type": answer.headers.get("content-type") ?? "" };
    return answer.arrayBuffer();
  });
  return new Response(bytes, { headers });
}
