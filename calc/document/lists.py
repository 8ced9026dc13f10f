"""Lists of rows inside a block of the document, each row a block of its own."""

import dataclasses
from typing import Any


def rows(label: str, kind: type) -> Any:
    """Return a dataclass field for a list of rows, each a block of its own; `label` is what one row is called."""
    return dataclasses.field(default=(), metadata={"label": label, "rows": kind})


def lists_of(block: type) -> dict[str, type]:
    """Return the lists of rows inside a block, by name, with what a row is."""
    return {each.name: each.metadata["rows"] for each in dataclasses.fields(block) if "rows" in each.metadata}
