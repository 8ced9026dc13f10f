"""What is wrong with a command's files and arguments: a line each on standard error, and kept for `--json`."""

import argparse
from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Any, NoReturn

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


class Parser(argparse.ArgumentParser):
    """Reads arguments; a wrong one is told as JSON, too, if `--json` is among them."""

    _as_data = False

    def arguments(self, given: Sequence[str]) -> argparse.Namespace:
        """Return the arguments, or end the program."""
        self._as_data = "--json" in given
        return self.parse_args(given)

    def error(self, message: str) -> NoReturn:
        """Tell how it is used and what is wrong, and end the program."""
        if self._as_data:
            wrong = {"file": "", "field": "", "code": "usage", "message": message, "facts": {}}
            put(dumps({"errors": [wrong]}, indent=1))
        super().error(message)


def _finite(facts: Mapping[str, Any]) -> dict[str, Any]:
    return {key: str(item) if isinstance(item, float) and not isfinite(item) else item for key, item in facts.items()}
