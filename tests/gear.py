"""A table as gear, for tests."""

from calc.document.columns import Chosen, laid_out
from calc.document.gearrows import Taken, rows
from calc.document.table import from_text
from calc.document.tablewords import told


def taken(text: str, system: str = "metric", known: str = "weighed", chosen: Chosen | None = None) -> Taken:
    return rows(laid_out(from_text(text), chosen), system, known)


def said(found: Taken) -> list[str]:
    """Return everything said of a table."""
    return [told(each) for each in (*found.aside, *found.doubts)]
