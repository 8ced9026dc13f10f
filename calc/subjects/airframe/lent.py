"""What the parts of the airframe lend the other subjects: the wing area and the airframe's own balance point."""

from dataclasses import replace

from calc.document.budget import Budget
from calc.document.entries import Model
from calc.document.fields import Entry, described
from calc.subject import unread
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.balance.entries import Balance


def lent(budget: Budget, found: AirframeBlock | None) -> Budget:
    """Return a budget with wing area and balance point of the airframe's parts, where nobody typed any.

    They have no text of their own: the document stays as it was typed.

    Examples
    --------
    >>> from calc.subjects.airframe.answer import block_of
    >>> wing = {"shape": "cover", "material": "tissue", "span": "800 mm", "root": "100 mm", "area": True}
    >>> budget = Budget.of(airframe=[wing])
    >>> round(lent(budget, block_of(budget)[0]).model.wing_area.value, 6)
    0.08
    """
    if found is None:
        return budget
    model, balance = budget.model, budget.balance
    if model.wing_area is None:
        model = replace(model, wing_area=_entry(budget, Model, "model.wing_area", found.area_m2))
    if balance is not None and balance.airframe_at is None:
        balance = replace(balance, airframe_at=_entry(budget, Balance, "balance.airframe_at", found.cg_m))
    return replace(budget, model=model, balance=balance)


def _entry(budget: Budget, kind: type, path: str, lent_: float | None) -> Entry[float] | None:
    """Return a figure as an entry; None where there is none, or where it would stand in for what cannot be read."""
    if lent_ is None or unread(budget, path) or not described(kind)[path.partition(".")[2]].allows(lent_):
        return None
    return Entry(value=lent_)
