"""Reads and writes WebAssembly modules as far as leaving functions out needs it (core specification 2.0, section 5).

Our own, since what it does is small: it takes a module apart into sections and its code into the bodies of functions,
and puts them together again. Nothing inside a body is read, and no index changes. The packages that can do more read
each instruction, and would have to know every extension that a new Pyodide uses.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

HEADER = b"\0asm\1\0\0\0"
CUSTOM, IMPORT, GLOBAL, EXPORT, CODE, DATA, DATA_COUNT = 0, 2, 6, 7, 10, 11, 12
I32, MUTABLE, I32_CONST, GLOBAL_SET, UNREACHABLE, END = 0x7F, 0x01, 0x41, 0x24, 0x00, 0x0B
FUNCTION_KIND, TABLE_KIND, MEMORY_KIND, GLOBAL_KIND, TAG_KIND = 0, 1, 2, 3, 4
STUB = bytes([0, UNREACHABLE, END])  # a body without local variables, and one instruction
ACTIVE = 0  # data that the program's memory has from the beginning, without naming the memory
MARK = "ran "  # the name of the global that tells whether a function ran, before its number among the bodies


@dataclass(frozen=True, slots=True)
class Export:
    """A name that a module gives to the outside: what kind of thing, which one."""

    name: bytes
    kind: int
    index: int


def number(data: bytes, at: int) -> tuple[int, int]:
    """Return an unsigned number (LEB128) and where the next thing begins.

    Examples
    --------
    >>> number(bytes([0xE5, 0x8E, 0x26]), 0)  # the DWARF 5 standard, appendix C, has this one
    (624485, 3)
    """
    value = shift = 0
    while True:
        byte = data[at]
        value |= (byte & 0x7F) << shift
        at += 1
        if byte < 0x80:
            return value, at
        shift += 7


def leb(value: int) -> bytes:
    """Return an unsigned number as LEB128.

    Examples
    --------
    >>> leb(624485).hex()
    'e58e26'
    """
    found = bytearray()
    while value >= 0x80:
        found.append(value & 0x7F | 0x80)
        value >>= 7
    found.append(value)
    return bytes(found)


def sections(module: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield the kind and the content of each section.

    Raises
    ------
    ValueError
        If it is no module, or of another version of the format.
    """
    if not module.startswith(HEADER):
        raise ValueError("this is no WebAssembly module of version 1")
    at = len(HEADER)
    while at < len(module):
        length, begin = number(module, at + 1)
        yield module[at], module[begin : begin + length]
        at = begin + length


def joined(found: Iterator[tuple[int, bytes]]) -> bytes:
    """Return a module of sections."""
    return HEADER + b"".join(bytes([kind]) + leb(len(content)) + content for kind, content in found)


def bodies(code: bytes) -> list[bytes]:
    """Return the bodies of a code section, each with its local variables in front."""
    count, at = number(code, 0)
    found = []
    for _ in range(count):
        length, begin = number(code, at)
        found.append(code[begin : begin + length])
        at = begin + length
    return found


def code_of(found: list[bytes]) -> bytes:
    """Return the code section of bodies."""
    return leb(len(found)) + b"".join(leb(len(body)) + body for body in found)


def exports(content: bytes) -> list[Export]:
    """Return what an export section gives to the outside."""
    count, at = number(content, 0)
    found = []
    for _ in range(count):
        length, begin = number(content, at)
        name = content[begin : begin + length]
        index, at = number(content, begin + length + 1)
        found.append(Export(name, content[begin + length], index))
    return found


def exports_of(found: Collection[Export]) -> bytes:
    """Return the export section of names."""
    each = (leb(len(one.name)) + one.name + bytes([one.kind]) + leb(one.index) for one in found)
    return leb(len(found)) + b"".join(each)


def imported(content: bytes, wanted: int) -> int:
    """Return how many things of a kind an import section brings in: the module's own are numbered after them."""
    count, at = number(content, 0)
    found = 0
    for _ in range(count):
        for _ in range(2):  # the module's name and the thing's
            length, begin = number(content, at)
            at = begin + length
        found += content[at] == wanted
        at = _after_import(content, at)
    return found


def counting(module: bytes) -> bytes:
    """Return a module that tells which of its functions ran.

    Each gets a global of its own, named `MARK` and its number, which is 0 until the function runs.
    """
    found = dict(_by_kind(module))
    code = bodies(found[CODE])
    first = imported(found[IMPORT], GLOBAL_KIND) + number(found[GLOBAL], 0)[0]
    marked = [_with_mark(body, first + index) for index, body in enumerate(code)]
    marks = [Export(f"{MARK}{index}".encode(), GLOBAL_KIND, first + index) for index in range(len(code))]
    count, at = number(found[GLOBAL], 0)
    zero = bytes([I32, MUTABLE, I32_CONST, 0, END])
    changed = {
        CODE: code_of(marked),
        GLOBAL: leb(count + len(code)) + found[GLOBAL][at:] + zero * len(code),
        EXPORT: exports_of([*exports(found[EXPORT]), *marks]),
    }
    return _with(module, changed)


def lean(module: bytes, kept: Collection[int], named: Collection[str] | None = None) -> bytes:
    """Return a module in which the functions that are not kept do nothing but trap; no index changes.

    Of its exports it has those that are `named`, or all.
    """
    found = dict(_by_kind(module))
    changed = {CODE: code_of([b if i in kept else STUB for i, b in enumerate(bodies(found[CODE]))])}
    if named is not None:
        wanted = {name.encode() for name in named}
        changed[EXPORT] = exports_of([each for each in exports(found[EXPORT]) if each.name in wanted])
    return _with(module, changed)


def without_data(module: bytes) -> tuple[bytes, int, bytes]:
    """Return a module without the data that its memory begins with, the address where they begin, and the data.

    Raises
    ------
    ValueError
        If there is data that the program fetches itself, or at a place that is not told by a constant.
    """
    found = dict(_by_kind(module))
    segments = _segments(found[DATA])
    begin, end = min(at for at, _ in segments), max(at + len(data) for at, data in segments)
    memory = bytearray(end - begin)
    for at, data in segments:
        memory[at - begin : at - begin + len(data)] = data
    rest = joined((kind, content) for kind, content in sections(module) if kind not in (DATA, DATA_COUNT))
    return rest, begin, bytes(memory)


def _segments(content: bytes) -> list[tuple[int, bytes]]:
    """Return the data of a data section, each with its address."""
    count, at = number(content, 0)
    found = []
    for _ in range(count):
        if content[at] != ACTIVE or content[at + 1] != I32_CONST:
            raise ValueError("data of another kind than a memory begins with")
        address, at = number(content, at + 2)  # signed, which is the same as long as it is below 2 GiB
        length, begin = number(content, at + 1)  # after the end of the constant
        at = begin + length
        found.append((address, content[begin:at]))
    return found


def _after_import(content: bytes, at: int) -> int:
    """Return where an imported thing ends; its kind stands at `at`."""
    kind, at = content[at], at + 1
    if kind == GLOBAL_KIND:
        return at + 2  # its type, and whether it may change
    if kind in (TABLE_KIND, MEMORY_KIND):
        at += kind == TABLE_KIND  # the type of what stands in the table
        has_most, at = content[at], at + 1
        for _ in range(2 if has_most else 1):
            _, at = number(content, at)
        return at
    return number(content, at + (kind == TAG_KIND))[1]


def _by_kind(module: bytes) -> Iterator[tuple[int, bytes]]:
    return ((kind, content) for kind, content in sections(module) if kind != CUSTOM)


def _with(module: bytes, changed: dict[int, bytes]) -> bytes:
    return joined((kind, changed.get(kind, content)) for kind, content in sections(module))


def _with_mark(body: bytes, mark: int) -> bytes:
    """Return a body that sets its mark before anything else."""
    count, at = number(body, 0)
    for _ in range(count):
        _, at = number(body, at)
        at += 1  # the type of these local variables
    return body[:at] + bytes([I32_CONST, 1, GLOBAL_SET]) + leb(mark) + body[at:]
