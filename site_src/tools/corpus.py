"""Hostile budgets as JSON text, by kinds: odd entries in each field and place, and texts that are odd as a whole."""

import json
from typing import Any

from calc.document.blocks import LISTS, places
from calc.document.budget import BLOCKS
from calc.document.fields import described
from site_src.app.pages import demos

ODD = {
    "past any float": "1e999", "below any float": "-1e999", "four thousand digits": "9" * 4400, "no number": "NaN",
    "as text": '"1e400"', "huge": "1e308", "tiny": "1e-308", "minus nothing": "-0.0", "below": "-1", "yes": "true",
    "a list": "[]", "a list in a list": "[[]]", "a group": "{}", "deep": "[[[[1]]]]",
    "control letters": '"a\\u0000\\u0007\\u001b[2J\\u009bb"', "half a letter": '"a\\ud800"',
    "lines": '"a\\r\\nb\\u2028c"',
    "turned": '"\\u202e1 g"', "from the right": '"\\u05e9\\u05dc\\u05d5\\u05dd 1 g"', "a formula": '"=1+1"',
    "over nothing": '"1/0 g"', "odd digits": '"\\u0661\\u0662 g"', "wide digits": '"\\uff11\\uff12 g"',
    "long": '"' + "x" * 9000 + '"', "blanks": '" \\t "', "markup": '"<img src=x>{{7*7}}"', "a word": '"nonsense"',
    "units in a row": '"1 g g g"', "powers": '"1 g**9**9"', "a comma too many": '"1,234"',
}  # fmt: skip
BASE = {**demos()[0].document, "bays": [{}]}


def all_paths() -> list[str]:
    """Return the path of every field of a budget."""
    return [f"{first_row(path)}.{name.rstrip('_')}".lstrip(".") for path, kind in places() for name in described(kind)]


def first_row(path: str) -> str:
    """Return the path of a block, or of the first row of a list.

    Examples
    --------
    >>> first_row("gear"), first_row("airframe"), first_row("model")
    ('gear.0', 'airframe.0', 'model')
    """
    return f"{path}.0" if path in LISTS else path


def with_odd(path: str, odd: str) -> str:
    """Return an example as JSON text with something odd in a field."""
    mark = "@here@"
    document: Any = json.loads(json.dumps(BASE))
    if (listed := path.partition(".")[0]) in LISTS and listed != path:
        document.setdefault(listed, [{}])
    *places, last = path.split(".")
    block = document
    for key in places:
        block = block[int(key)] if isinstance(block, list) else block.setdefault(key, {})
    block[int(last) if isinstance(block, list) else last] = mark
    return json.dumps(document).replace(json.dumps(mark), odd)


def in_fields() -> dict[str, str]:
    """Return four odd entries for each field, so that each kind of field meets each of them."""
    names, found = list(ODD), {}
    for number, path in enumerate(all_paths()):
        for turn in range(4):
            name = names[(number + turn * 7) % len(names)]
            found[f"{path}: {name}"] = with_odd(path, ODD[name])
    return found


def in_places() -> dict[str, str]:
    """Return odd entries in the place of each block and row, and unknown fields of odd names."""
    odd = {
        name: ODD[name] for name in ("past any float", "a list", "a list in a list", "yes", "a word", "blanks", "huge")
    }
    found = {f"{key}: {name}": with_odd(key, odd[name]) for key in (*BLOCKS, *LISTS) for name in odd}
    found |= {f"{key}.0: {name}": with_odd(f"{key}.0", odd[name]) for key in LISTS for name in odd}
    keys = [
        "gear.²",
        "parts.٣",
        "airframe.²",
        "__proto__",
        "",
        "a" * 9000,
        "\x1b[2J",
        "\u202e",
        "\ud800",
        "mas",
        "Mass",
        "gear.0.mass",
    ]
    found |= {f"unknown {key[:9]!r}": json.dumps({**BASE, key: {"a": [1]}}) for key in keys}
    found |= {f"row unknown {key[:9]!r}": json.dumps({"gear": [{key: "1 g"}] * 3}) for key in keys}
    return found


MANY = ",".join(f'"nonsense{number}": {number}' for number in range(5000))
ROW = "{" + ",".join(f'"mess{number}": 1' for number in range(60)) + "}"
WHOLE = {
    "nothing": "",
    "only blanks": " \n\t ",
    "a list": "[]",
    "a number": "1",
    "a huge number": "1e999",
    "digits": "9" * 4400,
    "a text": '"text"',
    "null": "null",
    "a model as a list": '{"model": []}',
    "a row as a list": '{"gear": [[]]}',
    "gear as a group": '{"gear": {}}',
    "parts as numbers": '{"airframe": [1, null, "x", true, 1e999]}',
    "ten thousand parts": '{"airframe": [' + ",".join(["{}"] * 10_000) + "]}",
    "parts as a group": '{"airframe": {"parts": [{"parts": [{"shape": "rod"}]}]}}',
    "an airframe past any wing": '{"airframe": [{"shape": "cover", "material": "tissue", "span": "5 m", '
    '"root": "2 m", "count": 200, "area": true, "weighed": "5 kg", "station": "5 m", "along": "5 m"}], "balance": {}}',
    "bays as a group": '{"bays": {"0": {}}}',
    "flights in lists": '{"flights": [[]], "charges": [[[]]], "bays": [[]], "airframe": [5]}',
    "lists as numbers": '{"flights": 5, "charges": 1e999, "bays": "x", "airframe": true, "field": [], "radio": [[]]}',
    "ten thousand flights": '{"flights": [' + ",".join(['{"sink": "1 m/s"}'] * 10_000) + "]}",
    "ten thousand charges": '{"charges": [' + ",".join(['{"put_back": "9 mAh"}'] * 10_000) + "]}",
    "seven bays": '{"bays": [' + ",".join(["{}"] * 7) + "]}",
    "unknown in the lists": '{"bays": ['
    + ROW
    + '], "flights": ['
    + ROW
    + '], "charges": ['
    + ROW
    + '], "airframe": ['
    + ROW
    + '], "building": '
    + ROW
    + ', "field": '
    + ROW
    + ', "radio": '
    + ROW
    + "}",
    "past any float in the lists": '{"bays": [{"length": 1e999, "name": 1e999}], "flights": [{"turns": 1e999, '
    '"sink": -1e999}], "charges": [{"put_back": 1e999}], "airframe": [{"mass": 1e999, "count": 1e999}], '
    '"radio": {"power": 1e999}, "field": {"wind": 1e999}, "building": {"glue": 1e999}}',
    "digits in the lists": '{"bays": [{"length": 9N, "name": 9N}], "flights": [{"turns": 9N}], "charges": [{"flights": '
    '9N}], "airframe": [{"count": 9N}], "radio": {"power": 9N}, "field": {"wind": 9N}}'.replace("N", "9" * 4000),
    "weighed on no day": '{"airframe": [{"weighed": "1 g", "weighed_on": "2026-99-99"}]}',
    "a tenth of a micrometre": '{"airframe": [{"shape": "ribs", "span": "5 m", "root": "2 m", "pitch": '
    '"2 mm", "depth": "50 %", "thickness": "100 mm", "count": 200}]}',
    "rows as numbers": '{"gear": [1, null, "x", true, 1e999]}',
    "twice": '{"model": {"airframe": "4 g", "airframe": "5 g"}}',
    "gear twice": '{"gear": [], "gear": [{"mass": "1 g"}]}',
    "unknown by the thousand": "{" + MANY + "}",
    "rows of unknown": '{"gear": [' + ",".join([ROW] * 60) + "]}",
    "ten thousand rows": '{"gear": [' + ",".join(["{}"] * 10_000) + "]}",
    "brackets": "[" * 50_000,
    "closed brackets": '{"a":' * 40_000 + "1" + "}" * 40_000,
    "a bracket too many": "{}}",
    "brackets in a text": '{"name": "' + "[" * 90_000,
    "cut short": '{"gear": [{"mass": "1',
    "a backslash at the end": '{"a": "\\',
    "single quotes": "{'a': 1}",
    "a comma at the end": '{"a": 1,}',
    "digits of a power": '{"gear": [{"mass": 1e' + "9" * 4000 + "}]}",
    "too large": '{"name": "' + "x" * 300_000 + '"}',
    "a format of the future": '{"format": 99}',
    "format null": '{"format": null, "x": 1}',
    "format in words": '{"format": "one"}',
    "units misspelt": '{"units": "metricc", "gear": [{"mass": "1.2"}]}',
    "units a number": '{"units": 5, "gear": [{"mass": 1.2}], "model": {"airframe": 40}}',
}
CORPUS = {**in_fields(), **in_places(), **WHOLE}
