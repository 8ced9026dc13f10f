"""The QR code, read back by another program than the one that made it."""

import re

import pytest
import zxingcpp
from PIL import Image, ImageDraw

from site_src.app import qr, sharebridge

ADDRESS = "https://club.example/thistledown/index.html#b="
DIGITS = "kZ0_9-Qe7"
SCALE = 3


def addressed(length: int) -> str:
    """Return an address of so many characters, in the letters of base64url."""
    return ADDRESS + (DIGITS * length)[: length - len(ADDRESS)]


def drawn(side: int, path: str) -> Image.Image:
    """Draw a path of bars on white."""
    image = Image.new("L", (side * SCALE, side * SCALE), 255)
    pen = ImageDraw.Draw(image)
    bars = re.findall(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z", path)
    assert "".join(f"M{x} {y}h{length}v1h-{back}z" for x, y, length, back in bars) == path
    for x, y, length, back in ((int(n) for n in bar) for bar in bars):
        assert length == back
        pen.rectangle((x * SCALE, y * SCALE, (x + length) * SCALE - 1, (y + 1) * SCALE - 1), fill=0)
    return image


@pytest.mark.parametrize("length", [60, 300, 700, 1000, 1600, 2953])
def test_another_program_reads_exactly_the_address(length: int) -> None:
    """With four modules of white around it, and at least half a millimetre for a module on paper."""
    found = qr.code(addressed(length))
    assert found is not None
    side, path = found
    image = drawn(side, path)
    (read,) = zxingcpp.read_barcodes(image)
    assert read.text == addressed(length)
    assert read.format == zxingcpp.BarcodeFormat.QRCode
    dark = image.point(lambda value: 255 - value).getbbox()
    assert dark == (4 * SCALE, 4 * SCALE, (side - 4) * SCALE, (side - 4) * SCALE)
    assert qr.print_mm(side) / side >= 0.5


def test_too_long_for_any_code_is_told_in_a_sentence() -> None:
    assert qr.code(addressed(2954)) is None
    answer = sharebridge.show_code({"address": addressed(2954)})
    assert (answer["screen"], answer["paper"]) == ("", "")
    assert answer["told"].startswith("The link has 2954 characters; a QR code holds at most 2953.")


def test_letters_of_an_address_that_are_no_ascii_come_through() -> None:
    found = qr.code("https://müller.example/#b=x")
    assert found is not None
    (read,) = zxingcpp.read_barcodes(drawn(*found))
    assert read.bytes.decode("utf-8") == "https://müller.example/#b=x"
