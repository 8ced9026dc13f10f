/** npm parts and generated files that exist only in the built site, as far as they are used. */

/** Put in by the build: which edition of the site it is, and the sums of the parts of the program. */
declare const EDITION: string;
declare const PARTS: Record<string, [sha256: string, crc32: number]>;

type PackedPart = { path: string; key: string; sums: [sha256: string, crc32: number] };
/** And what the worker starts from. */
declare const START: { SNAPSHOT: PackedPart; PROGRAM: PackedPart; DATA: PackedPart; LOCK: object };

declare module "idiomorph" {
  export const Idiomorph: { morph(place: object, html: string, options: object): void };
}

declare module "*/pyodide/pyodide.mjs" {
  export type Receive = (instance: any, module: any) => unknown;
  export type Instantiate = (imports: object, receive: Receive) => unknown;
  export function loadPyodide(options: object): Promise<{
    unpackArchive(archive: ArrayBuffer, format: string, options: { extractDir: string }): void;
    runPython(code: string): unknown;
    pyimport(name: string): any;
  }>;
}

declare module "*/glue.mjs" {
  export default function createModule(settings: object): Promise<any>;
}
