"""Hostile links, documents and files, for tests; and the requests that a page would make of them and of the corpus."""

import base64
import io
import json
import zipfile
import zlib
from collections.abc import Iterator
from typing import Any

from calc.document import link
from site_src.app import bridge
from site_src.app.pages import demos
from site_src.tools.corpus import CORPUS, WHOLE

EACH = 8  # of the corpus one in so many is asked for while functions are counted


def packed(text: str | bytes) -> str:
    """Return a fragment made with nothing but the standards' own words: no checksum, as earlier editions made it."""
    plain = text.encode() if isinstance(text, str) else text
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    body = packer.compress(plain) + packer.flush()
    return "#b=" + base64.urlsafe_b64encode(body).decode().rstrip("=")


GOOD = link.encode(demos()[0].document)
BOMB = "#b=" + base64.urlsafe_b64encode(zlib.compress(b"a" * 9_000_000, 9, wbits=-15)).decode().rstrip("=")
REFUSED = {
    "empty": "#b=", "cut short": GOOD[:-9],
    "a letter changed": GOOD[:60] + ("A" if GOOD[60] != "A" else "B") + GOOD[61:],
    "bomb": BOMB, "too long": "#b=" + "A" * 17_000, "no base64": "#b=%3Cscript%3E", "nul": "#b=\x00\x00",
    "format of the future": packed('{"format":99}'), "format no number": packed('{"format":"1e308"}'),
    "a list": packed("[]"), "a number": packed("1e308"), "deep": packed('{"format":1,"a":' + "[" * 20 + "]" * 20 + "}"),
    "not UTF-8": packed(b"\xff\xfe"), "no object": packed("null"), "two objects": packed('{"format":1}{"format":1}'),
    "zlib header": "#b=" + base64.urlsafe_b64encode(zlib.compress(b'{"format":1}')).decode().rstrip("="),
    "gzip": "#b=" + base64.urlsafe_b64encode(zlib.compress(b'{"format":1}', wbits=31)).decode().rstrip("="),
    "right to left": "#b=\u202eAAAA", "percent": GOOD.replace("#b=", "#b=%00"), "markup": "#b=<img src=x>",
}  # fmt: skip

EVIL = "<img src=x onerror=alert(1)>{{ 7*7 }}{% include 'x' %}${7*7}\u202egnp.exe"
DOCUMENTS: dict[str, Any] = {
    "numbers": {"gear": [{"mass": 1e308, "count": -0.0, "draw": -0.0}], "cell": {"capacity": 1e-308, "series": 2**70}},
    "markup": {
        "name": EVIL, "gear": [{"name": EVIL, "kind": EVIL, "mass": EVIL}], "model": {"class": EVIL}, EVIL: EVIL,
    },
    "prototypes": {"__proto__": {"a": 1}, "constructor": 1, "gear": [{"__proto__": "1 g", "toString": "x"}]},
    "surrogates": {"name": "\ud800\udfff\ud800", "gear": [{"name": "\udc00", "mass": "\ud83d"}]},
    "shapes": {"gear": {"0": {"mass": "1 g"}}, "cell": [1], "model": "text", "session": None, "units": ["metric"]},
    "rows": {"gear": [{"mass": "1 g"}] * 5000}, "row shapes": {"gear": [None, 1, "x", [], {}, True]},
    "long": {"name": "x" * 100_000, "gear": [{"mass": "9" * 100_000}]},
    "keys": {"k" * 1000: 1, "": 2, "gear.0.mass": 3},
    "not numbers": {"gear": [{"mass": "NaN"}, {"mass": "inf"}, {"mass": "1e999"}, {"mass": "−1 g"}, {"mass": "1/0 g"}]},
    "odd digits": {"gear": [{"mass": "١٢ g"}, {"mass": "1२ g"}, {"mass": "Ⅻ g"}, {"count": "²"}]},
    "unit bombs": {"gear": [{"mass": "1 g**9**9**9"}, {"mass": "__import__('os') g"}, {"mass": "1 [g]"}]},
}  # fmt: skip

TEXTS = {
    "truncated": '{"gear": [', "infinity": '{"name": Infinity}', "duplicate keys": '{"name": "a", "name": 5}',
    "deep": "[" * 100_000, "long number": '{"a": ' + "9" * 5000 + "}", "bom": "\ufeff{}",
    "lone escape": '{"a": "\\ud800"}',
    "nul": "\x00", "comment": "// x\n{}", "quote bomb": '"' * 5000,
    "brackets in text": '{"a": "' + "[" * 5000 + '"}',
}  # fmt: skip


def workbook() -> str:
    """Return a file of a spreadsheet, in base64: what reads it is left out, but what comes upon that must be there."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        book.writestr("content.xml", "<a/>")
    return base64.b64encode(file.getvalue()).decode()


def requests() -> Iterator[dict[str, Any]]:
    """Yield what a page asks for when it opens these."""
    texts = [*WHOLE.values(), *TEXTS.values(), *list(CORPUS.values())[::EACH]]
    begun = [("open_any", {"text": text, "document": {}}) for text in texts]
    begun += [("open_link", {"fragment": fragment}) for fragment in REFUSED.values()]
    begun += [("open_link", {"fragment": packed(json.dumps({"format": 1, **each}))}) for each in DOCUMENTS.values()]
    begun += [
        (method, {"table": {"data": workbook()}, "document": {}}) for method in ("table_preview", "box_table_preview")
    ]
    for method, params in begun:
        request = {"v": 1, "id": 0, "method": method, "params": params}
        yield request
        document = json.loads(bridge.handle(json.dumps(request))).get("result", {}).get("document")
        if document:
            yield {**request, "method": "answer", "params": {"document": document, "held": {}}}
