"""The reader of formulas: plain text such as `√(2 m g / (ρ S))` becomes MathML Core.

A space or nothing between factors multiplies them. ` / ` divides the whole product before it by the one factor after
it, `/` without spaces only the factor before it. Brackets right after a name are its argument: `k(T)`, but `n (1 + g)`.
Words of several letters are names, `S_flap` has a subscript, and text without a symbol in it stays text. Units are read
only where a text holds numbers (`units`): in `2 m g` the m is a mass. No browser breaks a formula, so each term stands
in a `<math>` of its own, and what is too wide inside a fraction or a root is set in rows.
"""

from markupsafe import Markup, escape

from site_src.app.formulatokens import END, SMALL, FormulaError, Token, tokens
from site_src.app.mathrows import WIDEST, Piece, Product, in_rows, on_one_line, operator, side_by_side

DEEPEST = 24  # brackets, roots and powers in each other
BRACKETS = {"(": ")", "[": "]", "⌊": "⌋", "⌈": "⌉", "|": "|"}
BIG = {"Σ": "∑", "Π": "∏", "∫": "∫"}
WITH_SIGN, RELATIONS, STOPS = frozenset("+−±"), frozenset("=≤≥"), frozenset(",;:")


class _Reader:
    def __init__(self, read: list[Token]) -> None:
        self.tokens, self.at, self.depth = [*read, END, END], 0, 0
        self.closing = [""]

    @property
    def next(self) -> Token:
        return self.tokens[self.at]

    def sign(self, among: str | frozenset[str]) -> str:
        """Take the next token if it is one of these signs; return it or nothing."""
        token = self.next
        if token.kind != "sign" or token.text not in among or token.text == self.closing[-1]:
            return ""
        self.at += 1
        return token.text

    def terms(self) -> list[Product]:
        """Read what stands between the signs of sums and relations, up to the closing bracket or the end."""
        found = [self.term("")]
        while self.next.text != self.closing[-1]:
            if stop := self.sign(STOPS):
                found[-1][-1].append(operator(stop, "postfix"))
                found.append(self.term(""))
            elif sign := self.sign(WITH_SIGN | RELATIONS):
                found.append(self.term(sign))
            else:
                raise FormulaError(self.next.text)
        self.at += 1
        return found

    def term(self, joined: str) -> Product:
        """Read a product, with the sign that joins it to what is before it and with its own."""
        lead = [operator(joined)] if joined else []
        if own := self.sign(WITH_SIGN):
            lead.append(operator(own, "prefix"))
        first, *more = self.product()
        return [lead + first, *more]

    def product(self) -> Product:
        found: Product = [[self.factor()]]
        while True:
            slash = self.next
            if times := self.sign("×·"):
                found.append([operator(times), self.factor()])
            elif self.sign("/"):
                tight = not slash.gap and not self.next.gap
                above = found[-1].pop() if tight else in_rows([found])
                below = self.factor().bare()
                divided = Piece(
                    f"<mfrac>{above.bare().one()}{below.one()}</mfrac>", max(above.width, below.width), tall=True
                )
                found = [*found[:-1], [*found[-1], divided]] if tight else [[divided]]
            elif self.begins_factor():
                found[-1].append(self.factor())
            else:
                return found

    def begins_factor(self) -> bool:
        token = self.next
        begins = token.kind in ("number", "word") or token.text in BRACKETS or token.text in BIG or token.text == "√"
        return begins and token.text != self.closing[-1]

    def factor(self) -> Piece:
        """Read a number, name, bracket or root with all that hangs on it."""
        self.depth += 1
        if self.depth > DEEPEST or not self.begins_factor():
            raise FormulaError(self.next.text)
        token = self.next
        self.at += 1
        if token.text == "√":
            found = self.hung_on(self.root())
        elif token.text in BIG:
            found = self.big(token.text)
        elif token.kind == "number":
            found = self.hung_on(Piece(f"<mn>{token.text}</mn>", len(token.text)))
        elif token.kind == "word":
            found = self.called(self.hung_on(self.named(token.text)))
        else:
            found = self.hung_on(self.bracket(token.text))
        self.depth -= 1
        return found

    def root(self) -> Piece:
        """Read what stands under a root: a bracket, whatever hangs on it hangs on the root, or a factor."""
        under = self.bracket(self.sign("(")).bare() if self.next.text == "(" else self.factor()
        return Piece(f"<msqrt>{under.markup}</msqrt>", under.width + 2, tall=under.tall)

    def big(self, sign: str) -> Piece:
        """Read what is added up, multiplied (one factor) or integrated (all that follows)."""
        pieces = [Piece(f"<mo>{BIG[sign]}</mo>", 2)]
        if sign == "∫":
            pieces.append(in_rows([self.product()]))
        elif self.begins_factor():
            pieces.append(self.factor())
        return side_by_side(pieces)

    def named(self, word: str) -> Piece:
        """Return a symbol, or a name of one word or of several."""
        words = [word]
        while len(words[-1]) > 1 and self.next.kind == "word" and len(self.next.text) > 1:
            if self.tokens[self.at + 1].text == "(" and not self.tokens[self.at + 1].gap:
                break
            words.append(self.next.text)
            self.at += 1
        text, tag = " ".join(words), "mi" if len(words) == 1 else "mtext"
        return Piece(f"<{tag}>{text}</{tag}>", len(text), name=len(text) > 1)

    def called(self, name: Piece) -> Piece:
        if self.next.text != "(" or self.next.gap:
            return name
        argument = self.factor()
        return Piece(name.markup + argument.markup, name.width + argument.width, single=False, tall=argument.tall)

    def bracket(self, opening: str) -> Piece:
        self.closing.append(BRACKETS[opening])
        inside = in_rows(self.terms())
        ends = (opening, "prefix"), (self.closing.pop(), "postfix")
        before, after = (operator(sign, form, inside.tall) for sign, form in ends)
        return Piece(f"{before.markup}{inside.markup}{after.markup}", inside.width + 2, single=False,
                     tall=inside.tall, inside=inside if opening == "(" else None)  # fmt: skip

    def hung_on(self, base: Piece) -> Piece:
        """Read subscript, power, factorial and unit."""
        below, above = self.small("lowered", "_"), self.small("raised", "^")
        tag = f"m{'sub' if below else ''}{'sup' if above else ''}"
        if below or above:
            base = Piece(f"<{tag}>{base.one()}{below}{above}</{tag}>", base.width + 1, base.name, tall=base.tall)
        if self.sign("!"):
            base = Piece(f"{base.markup}<mo>!</mo>", base.width + 1, single=False, tall=base.tall)
        if self.next.kind == "unit":
            unit = self.next.text
            self.at += 1
            space = "" if unit == "°" else "\u00a0"
            base = Piece(
                f"{base.markup}<mtext>{space}{unit}</mtext>", base.width + len(unit) + 1, single=False, tall=base.tall
            )
        return base

    def small(self, kind: str, sign: str) -> str:
        """Read raised or lowered digits, or one factor after the sign for it."""
        if self.next.kind == kind:
            text = self.next.text.translate(SMALL)
            self.at += 1
            digits = text.strip("+−")
            both = "".join([f"<mo>{text[0]}</mo>" if text[0] in "+−" else "", f"<mn>{digits}</mn>" if digits else ""])
            return f"<mrow>{both}</mrow>" if digits and text != digits else both
        return self.factor().bare().one() if self.sign(sign) else ""


def mathml(text: str, units: bool = False) -> Markup:
    """Return a formula as MathML, a `<math>` for each term; text without a symbol in it stays text.

    Raises
    ------
    FormulaError
        Where the text cannot be read.

    Examples
    --------
    >>> str(mathml("1 / x²"))
    '<math><mfrac><mn>1</mn><msup><mi>x</mi><mn>2</mn></msup></mfrac></math>'
    """
    read = list(tokens(text, units))
    if all(token.text == "," or (token.kind == "word" and len(token.text) > 1) for token in read):
        return escape(text)
    pieces = []
    for term in _Reader(read).terms():
        whole = on_one_line(term)
        pieces += [whole] if whole.width <= WIDEST else [side_by_side(factors) for factors in term]
    return Markup("<wbr>".join(f"<math>{piece.markup}</math>" for piece in pieces))  # made of known letters only


def shown(text: str, units: bool = False) -> Markup:
    """Return a formula as MathML, or where it cannot be read as it stands."""
    try:
        return mathml(text, units)
    except FormulaError:
        return escape(text)
