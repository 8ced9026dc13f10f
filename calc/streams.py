"""Files and standard streams of the command: UTF-8 whatever the locale, and a plain line where one is shut or full."""

import io
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TextIO

from calc.document.letters import printable
from calc.errors import BudgetError, Problem

NOT_UTF8 = "it is not UTF-8 text. Save it as UTF-8 (from a spreadsheet: “CSV UTF-8”) and try again."
AS_WINDOWS = "is not UTF-8; it was read as Windows-1252, as some spreadsheets write it. Look whether letters are right."


class FileRefusedError(Exception):
    """A file or standard input cannot be read; the message says why."""


def put(text: str) -> None:
    """Print an answer, its controls written out."""
    print(printable(text))


def tell(text: str) -> None:
    """Print a line on standard error, if somebody can read it."""
    if sys.stderr is None:  # shut; print would take standard output
        return
    try:
        print(printable(text), file=sys.stderr, flush=True)
    except OSError:
        _discard(sys.stderr)


def text_of(name: str, longest: int, *, table: bool = False) -> str:
    """Return the text of a file, or of standard input for `-`; of at most `longest` characters.

    Where it may be a `table` (CSV) that is not UTF-8, it is read as Windows-1252, and that is told.

    Raises
    ------
    BudgetError
        code `too_large`, if it must be longer.
    FileRefusedError
        If there is no such file, or it is no text.
    """
    raw = _raw(name, 4 * longest + 1)
    if len(raw) > 4 * longest:
        raise BudgetError((Problem(field="", code="too_large", facts={"most": longest}),))
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if not table or b"\0" in raw or raw.lstrip()[:1] in (b"{", b"["):
            raise FileRefusedError(NOT_UTF8) from error
    tell(f"{name} {AS_WINDOWS}")
    return raw.decode("cp1252", "replace")


def bytes_of(name: str, most: int) -> bytes:
    """Return the bytes of a file, or of standard input for `-`; no more than `most` and one.

    Raises
    ------
    FileRefusedError
        If there is no such file.
    """
    return _raw(name, most + 1)


def _raw(name: str, most: int) -> bytes:
    try:
        if name != "-":
            with Path(name).open("rb") as source:
                return source.read(most)
        if sys.stdin is None:
            raise FileRefusedError("standard input is closed.")
        buffer = getattr(sys.stdin, "buffer", None)
        return sys.stdin.read(most).encode() if buffer is None else bytes(buffer.read(most))
    except OSError as error:
        raise FileRefusedError(f"{error.strerror or error}.") from error


def run(work: Callable[[], int]) -> int:
    """Run a command as a program; return its exit status: 2, after one line, if the answer cannot be written."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
    if sys.stdout is None:
        tell("Standard output is closed: the answer cannot be written.")
        return 2
    try:
        status = _status(work)
        sys.stdout.flush()
    except BrokenPipeError:  # whoever reads has read enough, as `head` does
        status = 0
    except OSError as error:
        tell(f"The answer cannot be written: {error.strerror or error}.")
        status = 2
    else:
        return status
    _discard(sys.stdout)
    return status


def _status(work: Callable[[], int]) -> int:
    """Return the exit status of a command, also where a reader of arguments ends it."""
    try:
        return work()
    except SystemExit as left:
        return left.code if isinstance(left.code, int) else 0


def _discard(stream: TextIO) -> None:
    """Let what a stream still holds go nowhere, or Python would try to write it once more as it ends."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
