"""Modules taken apart and put together: held against node's own reading of them."""

import json
import subprocess
from pathlib import Path

import pytest

from site_src.tools import wasm
from site_src.tools.environment import SITE_SRC, node

# By hand, after the core specification 2.0, section 5: one import of each kind but a tag, a global, two functions that
# return a number, both exported.
IMPORTS = bytes.fromhex(
    "05 01 6d 01 66 00 00 01 6d 01 74 01 70 00 01 01 6d 01 6d 02 00 01 01 6d 01 67 03 7f 00 01 6d 01 68 03 7f 00"
)
MODULE = wasm.HEADER + bytes.fromhex(
    "01 05 01 60 00 01 7f"  # types: one, () -> i32
    f"02 {len(IMPORTS):02x} {IMPORTS.hex()}"
    "03 03 02 00 00"  # two functions of that type
    "06 06 01 7f 00 41 07 0b"  # a global of our own: 7
    "07 0d 02 03 6f 6e 65 00 01 03 74 77 6f 00 02"  # one, two
    "0a 0d 02 04 00 41 01 0b 06 01 02 7f 41 02 0b"  # the second has two local variables
)  # fmt: skip
RUN = """
const bytes = new Uint8Array(Buffer.from(process.argv[1], "hex"));
const memory = new WebAssembly.Memory({ initial: 1 });
const table = new WebAssembly.Table({ initial: 1, element: "anyfunc" });
const m = { f: () => 0, t: table, m: memory, g: 5, h: 6 };
const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { m });
const call = (name) => { try { return exports[name]?.() ?? null; } catch (error) { return error.message; } };
const marks = () => Object.fromEntries(
  Object.entries(exports).flatMap(([name, { value }]) => (value === undefined ? [] : [[name, value]])),
);
const before = marks();
console.log(JSON.stringify([call(process.argv[2]), before, marks()]));
"""


# Whether the memory that a whole program begins with is the data, and that of one without is nothing but zeros.
BEGINS_WITH = """
import { readFile } from "node:fs/promises";
const [folder, begin] = process.argv.slice(1);
const standIn = (kind) => (kind === "global" ? new WebAssembly.Global({ value: "i32", mutable: true }, 0) : () => 0);
async function memoryOf(name) {
  const module = new WebAssembly.Module(await readFile(`${folder}/${name}.wasm`));
  const given = {};
  for (const each of WebAssembly.Module.imports(module)) (given[each.module] ??= {})[each.name] = standIn(each.kind);
  return Buffer.from((await WebAssembly.instantiate(module, given)).exports.memory.buffer);
}
const expected = Buffer.alloc((await memoryOf("whole")).length);
const zeros = Buffer.from(expected);
(await readFile(`${folder}/data`)).copy(expected, Number(begin));
console.log(JSON.stringify([expected.equals(await memoryOf("whole")), zeros.equals(await memoryOf("module"))]));
"""


def run(module: bytes, name: str) -> list[object]:
    """Return what node says: the result of one function, and the exported numbers before and after it."""
    command = [str(node()), "--input-type=module", "--eval", RUN, module.hex(), name]
    found = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    assert isinstance(found, list)
    return found


@pytest.mark.node
def test_node_takes_the_module_made_by_hand() -> None:
    assert run(MODULE, "one") == [1, {}, {}]
    assert run(MODULE, "two") == [2, {}, {}]


@pytest.mark.node
def test_a_module_counts_which_functions_ran() -> None:
    module = wasm.counting(MODULE)
    assert run(module, "one") == [1, {"ran 0": 0, "ran 1": 0}, {"ran 0": 1, "ran 1": 0}]
    assert run(module, "two") == [2, {"ran 0": 0, "ran 1": 0}, {"ran 0": 0, "ran 1": 1}]


@pytest.mark.node
def test_a_function_left_out_traps_and_the_other_stays() -> None:
    module = wasm.lean(MODULE, {1})
    assert run(module, "one")[0] == "unreachable"
    assert run(module, "two")[0] == 2
    assert run(wasm.lean(MODULE, {0, 1}, ["two"]), "one")[0] is None


# The same import; a function that returns what stands at the address 20; data at 16 and at 24, and how many these are.
LOADS = wasm.HEADER + bytes.fromhex(
    f"01 05 01 60 00 01 7f 02 {len(IMPORTS):02x} {IMPORTS.hex()} 03 02 01 00 07 07 01 03 6f 6e 65 00 01"
    "0c 01 02 0a 09 01 07 00 41 14 2d 00 00 0b"
    "0b 12 02 00 41 10 0b 05 68 65 6c 6c 6f 00 41 18 0b 02 78 79"
)


@pytest.mark.node
def test_a_module_is_parted_from_its_data() -> None:
    assert run(LOADS, "one")[0] == ord("o")
    module, begin, data = wasm.without_data(LOADS)
    assert run(module, "one")[0] == 0
    assert (begin, data) == (16, b"hello\0\0\0xy")


def test_data_that_the_program_fetches_itself_is_not_parted() -> None:
    passive = wasm.HEADER + bytes.fromhex("0c 01 01 0b 04 01 01 01 78")
    with pytest.raises(ValueError, match="another kind"):
        wasm.without_data(passive)


@pytest.mark.node
def test_pyodides_data_is_what_its_memory_begins_with(tmp_path: Path) -> None:
    """As node has it, with stand-ins for all that the program imports, before anything runs."""
    whole = (SITE_SRC / "node_modules" / "pyodide" / "pyodide.asm.wasm").read_bytes()
    module, begin, data = wasm.without_data(whole)
    (tmp_path / "whole.wasm").write_bytes(whole)
    (tmp_path / "module.wasm").write_bytes(module)
    (tmp_path / "data").write_bytes(data)
    command = [str(node()), "--input-type=module", "--eval", BEGINS_WITH, str(tmp_path), str(begin)]
    assert json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout) == [True, True]


def test_what_is_imported_is_counted_by_kind() -> None:
    found = dict(wasm.sections(MODULE))[wasm.IMPORT]
    kinds = (wasm.FUNCTION_KIND, wasm.TABLE_KIND, wasm.MEMORY_KIND, wasm.GLOBAL_KIND, wasm.TAG_KIND)
    assert [wasm.imported(found, kind) for kind in kinds] == [1, 1, 1, 2, 0]


def test_pyodides_program_is_put_together_again_as_it_was() -> None:
    whole = (SITE_SRC / "node_modules" / "pyodide" / "pyodide.asm.wasm").read_bytes()
    assert wasm.joined(wasm.sections(whole)) == whole
    parts = dict(wasm.sections(whole))
    assert wasm.code_of(wasm.bodies(parts[wasm.CODE])) == parts[wasm.CODE]
    assert wasm.exports_of(wasm.exports(parts[wasm.EXPORT])) == parts[wasm.EXPORT]


@pytest.mark.parametrize("text", [b"", b"\0asm\2\0\0\0", b"PK\3\4"])
def test_what_is_no_module_is_refused(text: bytes) -> None:
    with pytest.raises(ValueError, match="no WebAssembly module of version 1"):
        list(wasm.sections(text))


GLUE = """async function _createPyodideModule(moduleArg={}){var Module=moduleArg;var _a,_b;
function assignWasmExports(wasmExports){_a=Module["_a"]=wasmExports["a"];_b=Module["_b"]=wasmExports["b"];}
var used=()=>_a();var unused=()=>_b();unused.sig="v";var wasmImports={used,unused};
var addFunction=(func,sig)=>{var wrapped=convertJsFunctionToWasm(func,sig);setWasmTableEntry(ret,wrapped)};
var reportUndefinedSymbols=()=>{for(var each of GOT)addFunction(each)};
function createWasm(){assignWasmExports({});updateGOT(origExports);reportUndefinedSymbols()}return used}
export default _createPyodideModule;
"""
# Imports `used`, exports a and b.
PROGRAM = wasm.HEADER + bytes.fromhex(
    "01 04 01 60 00 00 02 0a 01 01 65 04 75 73 65 64 00 00 03 03 02 00 00"
    "07 09 02 01 61 00 01 01 62 00 02 0a 07 02 02 00 0b 02 00 0b"
)


def glue_of(folder: Path, text: str) -> tuple[str, dict[str, object]]:
    """Return the glue that is made of another one, and what is told of it."""
    (folder / "pyodide.asm.mjs").write_text(text, encoding="utf-8")
    (folder / "pyodide.asm.wasm").write_bytes(PROGRAM)
    (folder / "pyodide.mjs").write_text("", encoding="utf-8")
    script = SITE_SRC / "tools" / "make_glue.mjs"
    command = [str(node()), str(script), str(folder), str(folder / "glue.mjs")]
    told = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return (folder / "glue.mjs").read_text(encoding="utf-8"), json.loads(told)


@pytest.mark.node
def test_the_glue_is_without_what_nobody_mentions(tmp_path: Path) -> None:
    glue, told = glue_of(tmp_path, GLUE)
    assert "_a" in glue
    assert "used=()=>_a()" in glue
    assert "_b" not in glue
    assert "unused" not in glue
    assert "updateGOT" not in glue
    assert "setWasmTableEntry(ret,wrappedAtOnce.get(func)??convertJsFunctionToWasm(func,sig))" in glue
    assert glue.index("wrappedAtOnce=wrapAll(") < glue.index("for(var each of GOT)")
    assert told["exports"] == ["a"]
    assert str(told["told"]).startswith("The glue: ")


WRAPPED = """
const { wrapAll } = await import(process.argv[1]);
const codes = { i: 127, p: 127, j: 126, f: 125, d: 124 };
const of = (sig, work) => Object.assign(work, { sig });
const many = Array.from({ length: 200 }, (_, at) => of("iii", (a, b) => a + b + at));
const others = [of("v", () => {}), of("dd", (x) => x / 2), of("jj", (x) => x * 3n), of("fip", (a, b) => a + b + 0.5)];
const made = [...wrapAll([...many, ...others], codes).values()];
const table = new WebAssembly.Table({ element: "anyfunc", initial: made.length });
made.forEach((each, at) => table.set(at, each)); // takes functions of a program alone
const [nothing, half, thrice, sum] = made.slice(200);
console.log(JSON.stringify([made[0](1, 2), made[199](1, 2), nothing() ?? null, half(5), String(thrice(2n ** 40n)),
  sum(1, 2), wrapAll([], codes).size]));
"""


@pytest.mark.node
def test_functions_in_javascript_become_those_of_a_program_all_at_once() -> None:
    """More than 127 of them, whose numbers take two bytes; with arguments and results of each kind."""
    script = (SITE_SRC / "tools" / "wrap_all.mjs").as_uri()
    command = [str(node()), "--input-type=module", "--eval", WRAPPED, script]
    told = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert json.loads(told) == [3, 202, None, 2.5, str(3 * 2**40), 3.5, 0]


@pytest.mark.node
@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("updateGOT(origExports);", ""),
        ("updateGOT(origExports);", "updateGOT(origExports);updateGOT(origExports);"),
        ("function assignWasmExports", "function assignExports"),
        ('=Module["_b"]', ""),
        ("async function _createPyodideModule", "async function*other(){} let _createPyodideModule=async function"),
        ("var wasmImports", "var imports"),
        ("var wrapped=convertJsFunctionToWasm(func,sig);", "var wrapped=convert(func,sig);"),
        ("var reportUndefinedSymbols=()=>{", "var reportUndefinedSymbols=function(){"),
        ("reportUndefinedSymbols()}return", "}return"),
    ],
)
def test_glue_of_another_shape_stays_as_it_came(before: str, after: str, tmp_path: Path) -> None:
    """A newer Pyodide may bring it; the build says so and goes on."""
    text = GLUE.replace(before, after)
    glue, told = glue_of(tmp_path, text)
    assert glue == text
    assert told["exports"] is None
    assert str(told["told"]).startswith("The glue stays as it came: ")
