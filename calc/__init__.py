"""Thistledown's sums: a radio payload budget for small free-flight model aircraft.

Pure Python; knows neither HTML nor JavaScript nor the visitor's files. Inside, every number is an SI float;
units are read and written at the edge (`calc.units`). What the front offers is imported when it is first asked for.

Examples
--------
>>> import calc
>>> gear = [{"kind": "receiver", "mass": "1.1 g"}, {"kind": "servo", "mass": "1.7 g", "known_by": "maker"}]
>>> answer = calc.assess(calc.Budget.of(model={"airframe": "34 g"}, gear=gear))
>>> answer.verdict, f"{1000 * answer.limits[0].in_hand_kg:.2f} g in hand"
('fits', '5.62 g in hand')
"""

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from calc.assess import Assessment, assess
    from calc.data import as_json
    from calc.document.budget import Budget, read
    from calc.document.link import decode, encode
    from calc.errors import BudgetError, LinkError, ThistledownError

__version__ = "0.6.0"
__all__ = [
    "Assessment",
    "Budget",
    "BudgetError",
    "LinkError",
    "ThistledownError",
    "as_json",
    "assess",
    "decode",
    "encode",
    "read",
]
_HOMES = {
    "calc.assess": ("Assessment", "assess"),
    "calc.data": ("as_json",),
    "calc.document.budget": ("Budget", "read"),
    "calc.document.link": ("decode", "encode"),
    "calc.errors": ("BudgetError", "LinkError", "ThistledownError"),
}


def __getattr__(name: str) -> Any:
    """Return something of the front; its module is imported now."""
    home = next((module for module, names in _HOMES.items() if name in names), None)
    if home is None:
        raise AttributeError(f"module 'calc' has no attribute {name!r}")
    return getattr(import_module(home), name)


def __dir__() -> list[str]:
    return [*globals(), *__all__]


class _Front(ModuleType):
    """Keeps `calc.assess` the function: importing the module of that name would put the module in its place."""

    def __setattr__(self, name: str, value: object) -> None:
        is_its_module = name == "assess" and isinstance(value, ModuleType)
        super().__setattr__(name, value.assess if is_its_module else value)  # type: ignore[attr-defined]


sys.modules[__name__].__class__ = _Front
