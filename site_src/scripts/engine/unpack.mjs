/** Unpacks what travels as xz: a first visit alone needs this, since the device keeps what comes out. */
import { XzReadableStream } from "xz-decompress";

/** @param {ReadableStream<Uint8Array>} packed @returns {Promise<ArrayBuffer>} what it holds */
export function unpack(packed) {
  return new Response(new XzReadableStream(packed)).arrayBuffer();
}
