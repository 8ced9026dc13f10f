"""A QR code (ISO/IEC 18004) of a budget's address, as one SVG path.

segno's encoder makes the matrix; of segno that alone goes to the browser. Bytes as they stand (an address is ASCII), in
the smallest version that holds them with error correction L, then with the best correction that this version has room
for: a link is long, and larger modules help a camera more than correction that a clean screen or sheet does not need.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from segno.encoder import DataOverflowError, encode

QUIET = 4  # modules of quiet zone on each side, as the standard asks
LONGEST = 2953  # bytes in version 40 with error correction L, by the standard's table of capacities
SCREEN_PX = 4  # of a module, where there is room
PRINT_MM = 0.51  # of a module: half a millimetre is read by a phone without fuss (common practice)
LEAST_MM = 45.0


@dataclass(frozen=True, kw_only=True)
class Code:
    """A code to draw: `side` in modules, the quiet zone included; `path` fills its dark modules."""

    side: int
    version: int
    path: str

    @property
    def screen_px(self) -> int:
        """Width on the screen."""
        return self.side * SCREEN_PX

    @property
    def print_mm(self) -> float:
        """Width on paper."""
        return round(max(LEAST_MM, self.side * PRINT_MM), 1)


def code(address: str) -> Code | None:
    """Return the code of an address, None where it is too long for any.

    Examples
    --------
    >>> found = code("https://example.org/#b=q1YqSyzKTVWyUkpJLUvNKU0sSVWqBQA")
    >>> found.version, found.side, found.path[:24]
    (4, 41, 'M4 4h7v1h-7zM12 4h2v1h-2')
    """
    try:
        made = encode(address.encode("utf-8"), error="L", mode="byte", micro=False)
    except DataOverflowError:
        return None
    return Code(side=len(made.matrix) + 2 * QUIET, version=made.version, path="".join(_runs(made.matrix)))


def _runs(matrix: Sequence[Sequence[int]]) -> Iterator[str]:
    """Yield a bar for each run of dark modules in a row."""
    for y, row in enumerate(matrix):
        x = 0
        for dark, run in groupby(row):
            length = sum(1 for _ in run)
            if dark:
                yield f"M{x + QUIET} {y + QUIET}h{length}v1h-{length}z"
            x += length
