"""How pieces of MathML stand beside each other, and in rows where they are too wide for one line."""

from dataclasses import dataclass, replace
from itertools import pairwise

WIDEST = 30  # letters of one unbroken piece: what a window of 320 px holds
SPACE, THIN = '<mspace width="0.25em"></mspace>', '<mspace width="0.12em"></mspace>'
WITH_FORM = frozenset("+−±|")  # signs whose form does not follow from the sign


@dataclass(frozen=True)
class Piece:
    """Some MathML and how wide it is in letters; `inside` is what round brackets hold, which layout can replace."""

    markup: str
    width: int
    name: bool = False  # of several letters: keeps a space from its neighbours
    sign: bool = False  # which keeps its own distance
    single: bool = True  # one element
    tall: bool = False  # taller than a line: brackets around it grow
    inside: "Piece | None" = None

    def one(self) -> str:
        """Return it as one element."""
        return self.markup if self.single else f"<mrow>{self.markup}</mrow>"

    def bare(self) -> "Piece":
        """Return it without the round brackets around it."""
        return self.inside or self


Product = list[list[Piece]]  # factors; each list but the first begins with a multiplication sign


def operator(text: str, form: str = "infix", stretchy: bool = True) -> Piece:
    """Return a sign; a bracket that is not to grow says so."""
    written = (f' form="{form}"' if text in WITH_FORM else "") + ("" if stretchy else ' stretchy="false"')
    return Piece(f"<mo{written}>{text}</mo>", 3 if form == "infix" else 1, sign=True)


def side_by_side(pieces: list[Piece]) -> Piece:
    """Return factors as one piece, with a space between any two that have no sign between them."""
    apart = [""]
    for before, piece in pairwise(pieces):
        space = SPACE if before.name or piece.name else THIN
        apart.append("" if before.sign or piece.sign else space)
    return _joined([replace(piece, markup=space + piece.markup) for space, piece in zip(apart, pieces, strict=True)])


def _joined(pieces: list[Piece]) -> Piece:
    whole, width = "".join(piece.markup for piece in pieces), sum(piece.width for piece in pieces)
    tall = any(piece.tall for piece in pieces)
    return pieces[0] if len(pieces) == 1 else Piece(whole, width, single=False, tall=tall)


def on_one_line(product: Product) -> Piece:
    """Return a product as one piece."""
    return side_by_side([piece for factors in product for piece in factors])


def in_rows(terms: list[Product]) -> Piece:
    """Return terms on one line, or where that is too wide in rows that begin with a sign."""
    parts = [on_one_line(term) for term in terms]
    whole = _joined(parts)
    if whole.width <= WIDEST:
        return whole
    if len(terms) == 1:
        parts = [side_by_side(factors) for factors in terms[0]]
    rows = [[parts[0]]]
    for part in parts[1:]:
        if sum(each.width for each in rows[-1]) + part.width > WIDEST:
            rows.append([])
        rows[-1].append(part)
    lines = [_joined(row) for row in rows]
    table = "".join(f"<mtr><mtd>{row.markup}</mtd></mtr>" for row in lines)
    return whole if len(rows) == 1 else Piece(f"<mtable>{table}</mtable>", max(row.width for row in lines), tall=True)
