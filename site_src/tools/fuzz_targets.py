"""What atheris runs; see `fuzz`."""

import base64
import json
import sys
import zlib
from collections.abc import Callable
from dataclasses import replace

import atheris

with atheris.instrument_imports():
    from calc import units
    from calc.document import box, boxfile, link
    from calc.document.budget import Budget, read, to_document
    from calc.document.jsontext import loads
    from calc.errors import ThistledownError
    from site_src.app import bridge
from calc.dimensions import DIMENSIONS
from site_src.app.why import PARTS


def the_link(text: str) -> None:
    """Check that a fragment opens or is refused, as it stands and packed; what opens gives a link again."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    body = packer.compress(text.encode()) + packer.flush()
    for fragment in (text, base64.urlsafe_b64encode(body).decode().rstrip("=")):
        try:
            document = link.decode(f"#b={fragment}")
        except ThistledownError:
            continue
        assert link.decode(link.encode(document)) == document


def the_quantity(text: str) -> None:
    """Check that a text is a finite quantity of every dimension or is refused."""
    for dimension in DIMENSIONS:
        for system in ("metric", "imperial"):
            try:
                found = units.parse(text, dimension, system)
            except ThistledownError:
                continue
            assert abs(found.si) < float("inf")


def the_budget(text: str) -> None:
    """Check that a document is read whatever it holds, and that what was understood is given back."""
    reading = read(loads(text))
    assert read(to_document(reading.budget)).budget == as_understood(reading.budget)


def as_understood(budget: Budget) -> Budget:
    """Return a budget without what made no sense in it."""
    return replace(budget, unread=frozenset())


def the_box(text: str) -> None:
    """Check that a file is a box or is refused; a box goes out as CSV and comes in again."""
    document = boxfile.box_from_text(text)
    found = box.read_box(document)
    again = box.read_box(boxfile.from_csv(boxfile.to_csv(document)))
    assert len(again.parts) <= len(found.parts)


def the_bridge(text: str) -> None:
    """Check that every answer is JSON, and none tells of a fault inside."""
    for method in ("form", "assess", "box", "box_csv", "open_any", "gear_csv", "sheet", "open_link"):
        try:
            document = loads(text)
        except ThistledownError:
            document = text
        params = {"document": document, "box": document, "text": text, "fragment": text, "why": list(PARTS)}
        answer = json.loads(bridge.handle(json.dumps({"v": 1, "id": 1, "method": method, "params": params})))
        assert answer["ok"] or answer["errors"][0]["code"] != "inside", answer


RUNS: dict[str, Callable[[str], None]] = {
    "link": the_link, "quantity": the_quantity, "budget": the_budget, "box": the_box, "bridge": the_bridge,
}  # fmt: skip


def main() -> None:
    """Run the target that the first argument names."""
    work = RUNS[sys.argv.pop(1)]

    def one(data: bytes) -> None:
        try:
            work(data.decode("utf-8", errors="replace"))
        except ThistledownError:
            return

    atheris.Setup(sys.argv, one)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
