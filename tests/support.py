"""What several tests share: reference tables, the worked example documents, Pyodide under node."""

import json
import re
import subprocess
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from calc.document.blocks import BoxPart
from calc.document.reading import read_block
from calc.errors import OutOfRangeError, Problem
from calc.subjects.stock.entries import Stock
from site_src.app.answer import Answer
from site_src.app.places import first_places, other_places
from site_src.tools import environment

ROOT, SITE_SRC = environment.ROOT, environment.SITE_SRC

REFERENCE = Path(__file__).parent / "reference"
RUNNER = Path(__file__).parent / "site" / "pyodide_runner.mjs"


def reference(name: str) -> dict[str, Any]:
    """Return a table of `tests/reference`; each says where its figures come from."""
    return tomllib.loads((REFERENCE / f"{name}.toml").read_text(encoding="utf-8"))


def demo_documents() -> dict[str, dict[str, Any]]:
    """Return the example budgets by file name."""
    files = sorted((SITE_SRC / "demo").glob("*.json"))
    return {
        file.name: json.loads(file.read_text(encoding="utf-8"))
        for file in files
        if file.name not in ("index.json", "box.json")
    }


def read_stock(fields: object, system: str) -> tuple[Stock, tuple[Problem, ...]]:
    """Return a piece of stock from its fields as typed, with every problem."""
    return read_block(Stock, fields, "stock", system)


def read_part(fields: object, path: str, system: str) -> tuple[BoxPart, tuple[Problem, ...]]:
    """Return a part of the box from its fields as typed, with every problem."""
    return read_block(BoxPart, fields, path, system)


HEADLINE = (  # of the example that the page opens with
    "Fits, with 0.60 g in hand, nearly sure. The share rule comes first. "
    "It runs for the session, balances and is strong enough in the glide."
)


class PyodideBridge:
    """The bridge inside Pyodide under node, as the worker runs it: one line in, one line out."""

    def __init__(self, site: Path) -> None:
        command = [str(environment.node()), str(RUNNER), str(site / "pyodide"), str(site / "app.zip")]
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT)

    def ask(self, text: str) -> str:
        """Return the bridge's answer to a request."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write((json.dumps(text) + "\n").encode())
        self._process.stdin.flush()
        line = self._process.stdout.readline()
        assert line, "the runner under node ended early"
        answer = json.loads(line)
        assert isinstance(answer, str)
        return answer

    def close(self) -> None:
        """End the process."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.close()
        self._process.wait(timeout=30)
        self._process.stdout.close()


APART = (
    "caption|dd|div|dl|dt|figcaption|figure|h[1-4]|li|ol|option|p|section|select|table|tbody|td|tfoot|th|thead|tr|ul"
)
BESIDE_THOSE = re.compile(rf" ?(</?(?:{APART})(?: [^>]*)?>) ?")


def squeezed(html: str) -> str:
    """Return HTML without the white space that no reader sees, wherever the lines of its template are broken.

    A run of white space is one blank; beside a tag that stands apart (a cell, a paragraph) there is none. The no-break
    space is a letter.
    """
    return BESIDE_THOSE.sub(r"\1", re.sub(r"[ \t\r\n]+", " ", html))


def shown_html(answer: Answer, **more: Any) -> str:
    """Return all that the page shows of an answer, as HTML."""
    return squeezed("\n".join(html for _, html in (*first_places(answer, more), *other_places(answer, more))))


def all_places(result: dict[str, Any]) -> str:
    """Return the HTML of all the places that the worker wrote for an answer."""
    return squeezed("\n".join(result["places"].values()))


def refused(sum_: Callable[..., float], arguments: tuple[object, ...]) -> str:
    """Return the name of the argument that a sum refuses."""
    with pytest.raises(OutOfRangeError) as found:
        sum_(*arguments)
    return found.value.name
