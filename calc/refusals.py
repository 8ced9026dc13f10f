"""What is wrong with a command's files and arguments: a line each on standard error, and kept for `--json`."""

from collections.abc import Mapping
from math import isfinite
from typing import Any

from calc import wording
from calc.document.jsontext import dumps
from calc.errors import Problem
from calc.streams import put, tell

BAD = 2  # the exit status


class Refusals:
    """Collects what is refused; the keys of `errors` are told in `calc/document/keys.txt`."""

    def __init__(self) -> None:
        self.errors: list[dict[str, Any]] = []

    def problem(self, file: str, found: Problem, *, name_it: bool) -> None:
        """Refuse a document for a problem; `name_it` puts the file before the line, where there are several."""
        line = wording.problem(found)
        self._add(f"{file}: {line}" if name_it else line, wording.sentence(found.code, found.facts), file, found)

    def other(self, code: str, message: str, file: str = "", **facts: Any) -> None:
        """Refuse a file as a whole, or an argument; the message names it."""
        self._add(message, message, file, Problem(field="", code=code, facts=facts))

    def _add(self, line: str, message: str, file: str, found: Problem) -> None:
        tell(line)
        told = {"file": file, "field": found.field, "code": found.code, "message": message}
        self.errors.append({**told, "facts": _finite(found.facts)})

    def status(self, *, as_data: bool) -> int:
        """Print what was refused, if JSON is wanted; return the exit status."""
        if as_data:
            put(dumps({"errors": self.errors}, indent=1))
        return BAD


def _finite(facts: Mapping[str, Any]) -> dict[str, Any]:
    return {key: str(item) if isinstance(item, float) and not isfinite(item) else item for key, item in facts.items()}
