/** The marks that `wasm.py` puts into a program: which of its functions ran. */

const MARK = "ran "; // as in wasm.py

export class Marks {
  /** @type {WebAssembly.Global[]} by the number of the function among the bodies */
  #marks = [];
  /** @type {number[]} the numbers of those that ran, when it was asked last */
  noted = [];

  /** @param {WebAssembly.Exports} exports @returns {WebAssembly.Exports} the program's own */
  takenOutOf(exports) {
    const own = {};
    for (const [name, value] of Object.entries(exports)) {
      if (name.startsWith(MARK)) this.#marks[Number(name.slice(MARK.length))] = value;
      else own[name] = value;
    }
    return own;
  }

  /** Nothing has run yet. */
  forget() {
    for (const mark of this.#marks) mark.value = 0;
  }

  note() {
    this.noted = this.#marks.flatMap((mark, number) => (mark.value ? [number] : []));
  }
}
