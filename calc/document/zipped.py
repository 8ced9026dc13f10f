"""The parts of a workbook, which is a zip of XML, read with bounds: nobody knows what a file from elsewhere does.

A part is unzipped in pieces and counted, since what the zip says of its size may be a lie; XML with a document type is
refused, since entities are declared there and neither ISO/IEC 26300 nor ECMA-376 needs one. `zipfile` and `expat` are
imported when a workbook is opened: most visits need neither.
"""

import io
import zlib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from calc.document.table import refused

MOST_BYTES = 5_000_000  # of the file
MOST_INFLATED = 20_000_000  # of all parts that are read, together
FAIR = 1_000_000  # bytes that any part may inflate to
MOST_TIMES = 500  # of its packed size, beyond that; deflate ends at 1032 times
PIECE = 65_536
DEFLATED = (0, 8)  # the ways to pack that both standards know: stored, deflated
ODF = "urn:oasis:names:tc:opendocument:"


class Archive:
    """A zip in memory, of which parts are read by name."""

    def __init__(self, data: bytes) -> None:
        import zipfile

        if len(data) > MOST_BYTES:
            raise refused("file_too_large", most_mb=MOST_BYTES // 1_000_000)
        self._bad = (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError)
        self._inflated = 0
        try:
            # Asked first: where the memory snapshot left the zip reader out, this says so without a half-made ZipFile.
            found = zipfile.is_zipfile(io.BytesIO(data))
            self._zip = zipfile.ZipFile(io.BytesIO(data if found else b""))
        except self._bad as error:
            raise refused("workbook_damaged", what="its zip cannot be read") from error
        self.names = frozenset(self._zip.namelist())

    def pieces(self, name: str) -> Iterator[bytes]:
        """Yield a part of the workbook, piece by piece.

        Raises
        ------
        BudgetError
            code `workbook_locked` (a password), `workbook_bomb` (it inflates beyond the bounds), `workbook_damaged`.
        """
        if name not in self.names:
            raise refused("workbook_damaged", what=f"{name[:60]} is not in it")
        info = self._zip.getinfo(name)
        if info.flag_bits & 1:
            raise refused("workbook_locked")
        if info.compress_type not in DEFLATED:
            raise refused("workbook_damaged", what="it is packed in an unusual way")
        size = 0
        try:
            with self._zip.open(info) as part:
                while piece := part.read(PIECE):
                    size += len(piece)
                    self._bounded(size, len(piece), info.compress_size)
                    yield piece
        except self._bad as error:
            raise refused("workbook_damaged", what="a part of it cannot be unzipped") from error

    def _bounded(self, size: int, more: int, packed: int) -> None:
        self._inflated += more
        if self._inflated > MOST_INFLATED or (size > FAIR and size > MOST_TIMES * packed):
            raise refused("workbook_bomb", most_mb=MOST_INFLATED // 1_000_000, times=MOST_TIMES)


class Event(NamedTuple):
    """What comes next in XML: `start` or `end` of an element by its local name, or a `text`."""

    kind: str
    name: str  # or the text
    space: str = ""  # the element's namespace
    attributes: Mapping[str, str] = {}  # by local name: those without a namespace, of ODF, and relationships


def events(pieces: Iterable[bytes]) -> Iterator[Event]:
    """Yield the events of an XML part.

    Raises
    ------
    BudgetError
        code `workbook_damaged`: no well-formed XML, or XML with a document type.
    """
    from xml.parsers import expat

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    found: list[Event] = []

    def started(name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        found.append(Event("start", local, space, _local(attributes)))

    def doctype(*_: Any) -> None:
        raise refused("workbook_damaged", what="its XML declares entities, which no workbook needs")

    parser.StartElementHandler = started
    parser.EndElementHandler = lambda name: found.append(Event("end", name.rpartition(" ")[2]))
    parser.CharacterDataHandler = lambda text: found.append(Event("text", text))
    parser.StartDoctypeDeclHandler = doctype
    try:
        for piece in pieces:
            parser.Parse(piece, False)
            yield from found
            found.clear()
        parser.Parse(b"", True)
    except expat.ExpatError as error:
        raise refused("workbook_damaged", what="its XML is not well-formed") from error
    yield from found


def until(at: Iterator[Event], name: str) -> Iterator[Event]:
    """Yield the events up to the end of an element; as `events` refuses what is not well-formed, there is one."""
    while not ((event := next(at)).kind == "end" and event.name == name):
        yield event


def _local(attributes: Mapping[str, str]) -> dict[str, str]:
    """Return attributes by their local names, without those that programs add in namespaces of their own."""
    kept = {}
    for name, text in attributes.items():
        space, _, local = name.rpartition(" ")
        if not space or space.startswith(ODF) or space.endswith("/relationships"):
            kept[local] = text
    return kept


def whole(text: str, otherwise: int) -> int:
    """Return a count in an attribute; `otherwise` where there is none.

    Raises
    ------
    BudgetError
        code `workbook_damaged`: it is no whole number.

    Examples
    --------
    >>> whole("3", 1), whole("", 1)
    (3, 1)
    """
    if not text:
        return otherwise
    if not (text.isascii() and text.isdigit() and len(text) < 16):
        raise refused("workbook_damaged", what=f"“{text[:20]}” is no count")
    return int(text)
