"""What a request gives, as far as it is of use."""

from typing import Any


def mapping(raw: object) -> dict[str, Any]:
    """Return what is given where it is a group of fields, else none."""
    return raw if isinstance(raw, dict) else {}
