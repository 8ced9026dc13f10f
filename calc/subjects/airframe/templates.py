"""Invented models to start from, each a full list of parts; read when one is asked for."""

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Template:
    """One model: what it is, the class that it is near, its parts as rows of a document."""

    id: str
    name: str
    class_: str
    about: str
    parts: tuple[dict[str, Any], ...]


@lru_cache(maxsize=1)
def templates() -> dict[str, Template]:
    """Return the models by id, in the order of the file.

    Examples
    --------
    >>> list(templates())[:3], templates()["indoor"].class_
    (['thirty-inch', 'small-rubber', 'indoor'], 'f1m')
    """
    read = tomllib.loads(files("calc").joinpath("subjects/airframe/templates.toml").read_text(encoding="utf-8"))
    return {
        row["id"]: Template(
            id=row["id"], name=row["name"], class_=row["class"], about=row["about"], parts=tuple(row["parts"])
        )
        for row in read["template"]
    }


def started(document: dict[str, Any], key: str) -> dict[str, Any]:
    """Return a document with the parts of a template for its airframe; its class where the document has none.

    Examples
    --------
    >>> begun = started({"name": "Wren"}, "indoor")
    >>> begun["name"], begun["model"], begun["airframe"][0]["name"]
    ('Wren', {'class': 'f1m'}, 'wing frame')
    """
    found = templates()[key]
    model = document.get("model")
    model = model if isinstance(model, dict) else {}
    parts = [dict(part) for part in found.parts]
    return {**document, "model": {"class": found.class_, **model}, "airframe": parts}
