"""An .xz file that holds its data as it is: what tests send in place of a visitor's, so that no page has to unpack it.

After the .xz file format 1.2.1; Python's own `lzma` takes it (`tests/site/test_snapshot.py`).
"""

from collections.abc import Mapping
from zlib import crc32

CHUNK = 1 << 16  # bytes of an LZMA2 chunk that is not compressed
CRC32_CHECK, LZMA2, DICTIONARY_16_MB = 0x01, 0x21, 24
FLAGS = bytes([0, CRC32_CHECK])


def stored(data: bytes, _how: Mapping[str, int]) -> bytes:
    """Return data as an .xz file in one block, in place of `snapshot.packed`."""
    header = _with_sum(bytes([2, 0, LZMA2, 1, DICTIONARY_16_MB, 0, 0, 0]))
    block = header + b"".join(_chunk(data, at) for at in range(0, len(data), CHUNK)) + b"\0"
    unpadded = len(block) + 4
    block += bytes(-len(block) % 4) + _sum(data)
    index = b"\0\1" + _number(unpadded) + _number(len(data))
    index = _with_sum(index + bytes(-len(index) % 4))
    backward = (len(index) // 4 - 1).to_bytes(4, "little")
    return b"\xfd7zXZ\0" + _with_sum(FLAGS) + block + index + _sum(backward + FLAGS) + backward + FLAGS + b"YZ"


def _chunk(data: bytes, at: int) -> bytes:
    """Return a chunk; the first one makes the dictionary new."""
    piece = data[at : at + CHUNK]
    return bytes([1 if at == 0 else 2]) + (len(piece) - 1).to_bytes(2, "big") + piece


def _number(value: int) -> bytes:
    """Return a number in pieces of seven bits, the lowest first."""
    found = bytearray()
    while value >= 0x80:
        found.append(value & 0x7F | 0x80)
        value >>= 7
    return bytes([*found, value])


def _sum(data: bytes) -> bytes:
    return crc32(data).to_bytes(4, "little")


def _with_sum(data: bytes) -> bytes:
    return data + _sum(data)
