"""One Jinja environment for the build and for the browser: the same templates give the same HTML in both."""

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from calc import digits, wording
from calc.subjects.limits import words as limit_words
from calc.subjects.listed import SUBJECTS

SITE_SRC = Path(__file__).resolve().parent.parent
TEMPLATES = SITE_SRC / "templates"


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
    environment.filters.update(
        mass=digits.mass,
        mass_change=digits.mass_change,
        figure=digits.figure,
        percent=digits.percent,
        duration=digits.duration,
        quantity=digits.quantity,
        spread=digits.spread,
        given=digits.given,
        current=digits.current,
        resistance=digits.resistance,
        times=digits.times,
        lost=digits.lost,
        rounded=digits.rounded,
        measured=digits.measured,
        station=digits.length,
        stands=digits.station,
        tight=digits.tight,
        unbroken=_unbroken,
        lowered=wording.lowered,
        volts=digits.volts,
        allows=limit_words.allows,
    )
    environment.globals.update(limit_names=limit_words.LIMITS, subjects=tuple(each.name for each in SUBJECTS))
    return environment


def _unbroken(text: str) -> str:
    """Return a sum that breaks only before its plus and minus signs and after its equals sign."""
    return re.sub(" (?![+−])", "\u00a0", text)


def render(template: str, context: Mapping[str, Any]) -> str:
    """Return a template's text; its path is relative to the folder of templates."""
    return make_environment().get_template(template).render(context)
