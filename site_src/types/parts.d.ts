/** npm parts that exist only in the built site, as far as they are used. */

declare module "*/vendor/idiomorph.mjs" {
  export const Idiomorph: { morph(place: object, html: string, options: object): void };
}

declare module "*/pyodide/pyodide.mjs" {
  export function loadPyodide(options: { indexURL: string }): Promise<{
    unpackArchive(archive: ArrayBuffer, format: string, options: { extractDir: string }): void;
    runPython(code: string): unknown;
    pyimport(name: string): any;
  }>;
}
