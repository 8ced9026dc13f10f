"""A budget as an address fragment, and back.

Form: `#b=`, six letters of a checksum, `.`, and a body: base64url (RFC 4648, section 5, no padding) of raw deflate
(RFC 1951) of compact JSON text (RFC 8259) in UTF-8, whose first member is the format number. The checksum is the
CRC-32 (RFC 1952, section 8) of the body's letters, its four bytes, high one first, in base64url. A body alone, as
editions up to 0.5 made them, opens too; nothing then tells of a letter that was changed on the way. A document with
mistakes in it goes through unchanged: the other end shows the same mistakes.
"""

import base64
import binascii
import re
import zlib
from collections.abc import Mapping
from typing import Any

from calc.document.blocks import FORMAT, Budget
from calc.document.budget import to_document
from calc.document.jsontext import LONGEST_DOCUMENT, dumps, loads
from calc.document.letters import halves_written, plain
from calc.errors import BudgetError, LinkError

PREFIX = "#b="
LONGEST_LINK = 16_384  # characters
CHECK_LETTERS = 6  # of base64url, for 32 bits
_START = re.compile(r"#b(?:=|%3[dD])")
_DIGITS = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_")
_AROUND = "=.,;:!?)>]}\"'”’"  # what the text around an address leaves behind it


def encode(document: Mapping[str, Any] | Budget) -> str:
    """Return the address fragment of a document, or of the one that a budget was read from.

    Raises
    ------
    LinkError
        code `link_too_long` when the fragment would pass 16 384 characters.

    Examples
    --------
    >>> decode(encode({"name": "Moth"}))
    {'format': 1, 'name': 'Moth'}
    """
    given = to_document(document) if isinstance(document, Budget) else document
    ordered = {"format": FORMAT, **given}
    packer = zlib.compressobj(9, zlib.DEFLATED, -zlib.MAX_WBITS)
    packed = packer.compress(halves_written(dumps(ordered)).encode()) + packer.flush()
    body = _letters(packed)
    fragment = f"{PREFIX}{_check(body)}.{body}"
    if len(fragment) > LONGEST_LINK:
        raise LinkError("link_too_long", length=len(fragment), most=LONGEST_LINK)
    return fragment


def decode(fragment: str) -> dict[str, Any]:
    """Return the document of an address fragment, with or without what stands before `#b=` and what a text left behind.

    Raises
    ------
    LinkError
        code `link_too_long`, `link_not_budget` (no `#b=`), `link_damaged` (letters lost or changed on the way),
        `link_too_large` (inflates past 256 kB), `link_format` (made by a newer edition), `link_no_format`.

    Examples
    --------
    >>> decode("https://example.org/#b=FxI4Dw.q1ZKyy_KTSxRsjLUUcpLzE1VslLyzS_JUKoFAA")
    {'format': 1, 'name': 'Moth'}
    """
    check, body = _parted(fragment)
    if check and check != _check(body):
        raise LinkError("link_damaged")
    return _document(_inflated(body))


def is_checked(fragment: str) -> bool:
    """Return whether a link that opens carries a checksum; one made up to edition 0.5 does not.

    Examples
    --------
    >>> is_checked(encode({})), is_checked("#b=q1ZKyy_KTSxRsjLUUcpLzE1VslLyzS_JUKoFAA")
    (True, False)
    """
    return _parted(fragment)[0] != ""


def _parted(fragment: str) -> tuple[str, str]:
    """Return checksum, "" for none, and body."""
    start = _START.search(fragment)
    if start is None:
        raise LinkError("link_not_budget")
    letters = "".join(fragment[start.end() :].split()).rstrip(_AROUND)
    if len(letters) > LONGEST_LINK:
        raise LinkError("link_too_long", length=len(letters), most=LONGEST_LINK)
    if len(letters) > CHECK_LETTERS and letters[CHECK_LETTERS] == ".":
        return letters[:CHECK_LETTERS], letters[CHECK_LETTERS + 1 :]
    return "", letters


def _check(body: str) -> str:
    return _letters(zlib.crc32(body.encode("utf-8", "replace")).to_bytes(4, "big"))


def _letters(raw: bytes) -> str:
    return base64.urlsafe_b64encode(raw).rstrip(b"=").decode("ascii")


def _inflated(body: str) -> str:
    if not body or not _DIGITS.issuperset(body):
        raise LinkError("link_damaged")
    try:
        packed = base64.urlsafe_b64decode(body + "=" * (-len(body) % 4))
        inflater = zlib.decompressobj(-zlib.MAX_WBITS)
        unpacked = inflater.decompress(packed, LONGEST_DOCUMENT + 1)
        if len(unpacked) > LONGEST_DOCUMENT:
            raise LinkError("link_too_large", most=LONGEST_DOCUMENT)
        if not inflater.eof or inflater.unused_data:
            raise LinkError("link_damaged")
        return unpacked.decode("utf-8")
    except (binascii.Error, zlib.error, UnicodeDecodeError) as error:
        raise LinkError("link_damaged") from error


def _document(source: str) -> dict[str, Any]:
    try:
        document = loads(source)
    except BudgetError as error:
        raise LinkError("link_damaged") from error
    if not isinstance(document, dict):
        raise LinkError("link_damaged")
    made_in = document.get("format")
    if isinstance(made_in, bool) or not isinstance(made_in, int):
        raise LinkError("link_no_format")
    if made_in != FORMAT:
        raise LinkError("link_format", format=plain(str(made_in)[:20]), known=FORMAT)
    return document
