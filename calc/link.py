"""A budget as an address fragment, and back.

Form: `#b=` and base64url (RFC 4648, section 5, no padding) of raw deflate (RFC 1951) of compact JSON text (RFC 8259)
in UTF-8, whose first member is the format number. A document with mistakes in it goes through unchanged: the other
end shows the same mistakes.
"""

import base64
import binascii
import json
import zlib
from collections.abc import Mapping
from typing import Any

from calc.budget import FORMAT, LONGEST_DOCUMENT, loads
from calc.errors import BudgetError, LinkError

PREFIX = "#b="
LONGEST_LINK = 16_384  # characters
_DIGITS = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_")


def encode(document: Mapping[str, Any]) -> str:
    """Return the address fragment of a document.

    Raises
    ------
    LinkError
        code `link_too_long` when the fragment would pass 16 384 characters.

    Examples
    --------
    >>> decode(encode({"name": "Moth"}))
    {'format': 1, 'name': 'Moth'}
    """
    ordered = {"format": FORMAT, **document}
    packer = zlib.compressobj(9, zlib.DEFLATED, -zlib.MAX_WBITS)
    plain = json.dumps(ordered, ensure_ascii=False, separators=(",", ":")).encode("utf-8", "surrogatepass")
    packed = packer.compress(plain) + packer.flush()
    fragment = PREFIX + base64.urlsafe_b64encode(packed).rstrip(b"=").decode("ascii")
    if len(fragment) > LONGEST_LINK:
        raise LinkError("link_too_long", length=len(fragment), most=LONGEST_LINK)
    return fragment


def decode(fragment: str) -> dict[str, Any]:
    """Return the document of an address fragment, with or without what stands before `#b=`.

    Raises
    ------
    LinkError
        code `link_too_long`, `link_not_budget` (no `#b=`), `link_damaged` (letters lost or changed on the way),
        `link_too_large` (inflates past 256 kB), `link_format` (made by a newer edition).
    """
    where = fragment.find(PREFIX)
    if where < 0:
        raise LinkError("link_not_budget")
    body = fragment[where + len(PREFIX) :].strip().rstrip("=")
    if len(body) > LONGEST_LINK:
        raise LinkError("link_too_long", length=len(body), most=LONGEST_LINK)
    return _document(_inflated(body))


def _inflated(body: str) -> str:
    if not body or not _DIGITS.issuperset(body):
        raise LinkError("link_damaged")
    try:
        packed = base64.urlsafe_b64decode(body + "=" * (-len(body) % 4))
        inflater = zlib.decompressobj(-zlib.MAX_WBITS)
        plain = inflater.decompress(packed, LONGEST_DOCUMENT + 1)
        if len(plain) > LONGEST_DOCUMENT:
            raise LinkError("link_too_large", most=LONGEST_DOCUMENT)
        if not inflater.eof or inflater.unused_data:
            raise LinkError("link_damaged")
        return plain.decode("utf-8")
    except (binascii.Error, zlib.error, UnicodeDecodeError) as error:
        raise LinkError("link_damaged") from error


def _document(source: str) -> dict[str, Any]:
    try:
        document = loads(source)
    except BudgetError as error:
        raise LinkError("link_damaged") from error
    if not isinstance(document, dict):
        raise LinkError("link_damaged")
    if document.get("format") != FORMAT:
        raise LinkError("link_format", format=str(document.get("format"))[:20], known=FORMAT)
    return document
