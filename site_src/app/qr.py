"""A QR code (ISO/IEC 18004) of a budget's address, as one SVG path.

segno's encoder makes the matrix; of segno that alone goes to the browser. Bytes as they stand (an address is ASCII), in
the smallest version that holds them with error correction L, then with the best correction that this version has room
for: a link is long, and larger modules help a camera more than correction that a clean screen or sheet does not need.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

QUIET = 4  # modules of quiet zone on each side, as the standard asks
LONGEST = 2953  # bytes in version 40 with error correction L, by the standard's table of capacities
SCREEN_PX = 4  # of a module, where there is room
PRINT_MM = 0.51  # of a module: half a millimetre is read by a phone without fuss (common practice)
LEAST_MM = 45.0


def code(address: str) -> tuple[int, str] | None:
    """Return the code of an address: its side in modules, quiet zone included, and the path of all that is dark.

    None where the address is too long for any code.

    Examples
    --------
    >>> side, path = code("https://example.org/#b=q1YqSyzKTVWyUkpJLUvNKU0sSVWqBQA")
    >>> side, path[:24]
    (41, 'M4 4h7v1h-7zM12 4h2v1h-2')
    """
    from segno.encoder import DataOverflowError, encode  # when first asked for: most visits need none of it

    try:
        matrix = encode(address.encode("utf-8"), error="L", mode="byte", micro=False).matrix  # type: ignore[no-untyped-call]
    except DataOverflowError:
        return None
    return len(matrix) + 2 * QUIET, "".join(_runs(matrix))


def _runs(matrix: Sequence[Sequence[int]]) -> Iterator[str]:
    """Yield a bar for each run of dark modules in a row."""
    for y, row in enumerate(matrix):
        x = 0
        for dark, run in groupby(row):
            length = sum(1 for _ in run)
            if dark:
                yield f"M{x + QUIET} {y + QUIET}h{length}v1h-{length}z"
            x += length


def screen_px(side: int) -> int:
    """Return the width on the screen."""
    return side * SCREEN_PX


def print_mm(side: int) -> float:
    """Return the width on paper.

    Examples
    --------
    >>> print_mm(41), print_mm(185)
    (45.0, 94.4)
    """
    return round(max(LEAST_MM, side * PRINT_MM), 1)
