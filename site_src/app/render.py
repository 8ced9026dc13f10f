"""One Jinja environment for the build and for the browser: the same templates give the same HTML in both."""

import re
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from calc import digits, wording
from calc.subjects.airframe.entries import GROUPS, SHEET_SHAPES
from calc.subjects.airframe.materials import table as materials
from calc.subjects.airframe.templates import templates
from calc.subjects.airframe.words import FORGOTTEN
from calc.subjects.limits import words as limit_words
from calc.subjects.listed import SUBJECTS
from calc.unit_system import UnitSystem
from site_src.app import formula
from site_src.app.controls import ANY_ROW
from site_src.subjects.airframe.lines import BELONGS

PLACES = (  # where one can go: file, word, and the pages that belong to it beside its own
    ("index.html", "Budget", ()),
    ("box.html", "My parts", ()),
    ("finder.html", "Lightest set", ()),
    ("compare.html", "Side by side", ("compare", "fits")),
    ("help.html", "Help", ("help", "classes", "stock", "method", "cautions")),
)
NEAR = {  # the pages of a place
    "compare.html": (("compare", "Two budgets"), ("fits", "This gear in other models")),
    "help.html": (
        ("help", "How to"),
        ("classes", "Classes"),
        ("stock", "Mass from dimensions"),
        ("method", "How it is worked out"),
        ("cautions", "Cautions"),
    ),
}
WAITING = {
    "limits": "The limits wait", "model": "The flying weight waits", "class": "The class’s rules wait",
    "growth": "Planned and weighed wait", "power": "The run time waits", "balance": "The balance waits",
    "surface": "The surface waits", "linkage": "The linkage waits", "air": "The air waits",
    "motor": "The rubber motor waits", "airframe": "The airframe’s parts wait", "field": "Wind and field wait",
    "reach": "The reach waits", "flights": "The flights wait",
}  # fmt: skip
SITE_SRC = Path(__file__).resolve().parent.parent
TEMPLATES = SITE_SRC / "templates"


def _unbroken(text: str) -> str:
    """Return a sum that breaks only before its plus and minus signs and after its equals sign."""
    return re.sub(" (?![+−])", "\u00a0", text)


def _in_system(method: Callable[..., str]) -> Callable[..., str]:
    """Return a method of the unit system as a filter: the value comes first, as in `kg | mass(system)`."""

    def filtered(value: Any, system: UnitSystem, *more: Any) -> str:
        return method(system, value, *more)

    return filtered


FILTERS: Mapping[str, Callable[..., str]] = {
    "allows": limit_words.allows,
    "charge": digits.charge,
    "current": digits.current,
    "duration": digits.duration,
    "given": digits.given,
    "lost": digits.lost,
    "lowered": wording.lowered,
    "measured": digits.measured,
    "percent": digits.percent,
    "resistance": digits.resistance,
    "tight": digits.tight,
    "times": digits.times,
    "unbroken": _unbroken,
    "volts": digits.volts,
    "whole_percent": digits.whole_percent,
    "formula": formula.shown,
    "mathml": formula.mathml,
    "figure": _in_system(UnitSystem.round_mass),
    "loading": _in_system(UnitSystem.loading),
    "mass": _in_system(UnitSystem.mass),
    "mass_change": _in_system(UnitSystem.mass_change),
    "rounded": _in_system(UnitSystem.rounded),
    "speed": _in_system(UnitSystem.speed),
    "spread": _in_system(UnitSystem.spread),
    "stands": _in_system(UnitSystem.station),
    "station": _in_system(UnitSystem.length),
}


@lru_cache(maxsize=1)
def make_environment() -> Environment:
    """Return the environment: everything is escaped, an unknown name is an error."""
    environment = Environment(
        loader=FileSystemLoader([TEMPLATES, SITE_SRC]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.filters.update(FILTERS)
    environment.globals.update(
        limit_names=limit_words.LIMITS,
        systems=UnitSystem,
        subjects=tuple(each.name for each in SUBJECTS),
        waiting={each.name: f"{each.title}: waits" for each in SUBJECTS} | WAITING,
        any_row=ANY_ROW,
        places=PLACES,
        near=NEAR,
        airframe_models=tuple((key, each.name) for key, each in templates().items()),
        airframe_materials=tuple(materials().values()),
        forgotten=FORGOTTEN,
        group_words=GROUPS,
        airframe_belongs=BELONGS,
        sheet_shapes=",".join(SHEET_SHAPES),
        titles={each.name: each.title for each in SUBJECTS},
    )
    return environment


def render(template: str, context: Mapping[str, Any]) -> str:
    """Return a template's text; its path is relative to the folder of templates."""
    return make_environment().get_template(template).render(context)
