"""A line of a list as texts: what a phone shows of it until it is opened, and what it comes to."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line: what it is called, what it comes to with its spread ("" while that is not known), and the rest."""

    name: str
    counts: str
    rest: str
