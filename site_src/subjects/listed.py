"""The rooms of the page, by the names of the subjects: what works each one's numbers out again.

A room holds the templates `answer.html` and, where there is something to enter, to print or to explain, `form.html`,
`sheet.html` and `method.html`; `workings.py`; and `drawing.py` where it has a picture.
"""

from collections.abc import Callable, Iterable, Mapping

from calc.assess import Assessment
from calc.document.budget import Budget
from site_src.app.sums import Working
from site_src.subjects.air.workings import workings as air
from site_src.subjects.airframe.workings import workings as airframe
from site_src.subjects.balance.workings import workings as balance
from site_src.subjects.growth.workings import workings as growth
from site_src.subjects.limits.workings import workings as limits
from site_src.subjects.linkage.workings import workings as linkage
from site_src.subjects.motor.workings import workings as motor
from site_src.subjects.power.workings import workings as power
from site_src.subjects.surface.workings import workings as surface
from site_src.subjects.weights.workings import workings as weights

Workings = Callable[[Budget, Assessment], Iterable[Working]]
ROOMS: Mapping[str, Workings] = {
    "weights": weights,
    "limits": limits,
    "growth": growth,
    "airframe": airframe,
    "power": power,
    "balance": balance,
    "surface": surface,
    "linkage": linkage,
    "air": air,
    "motor": motor,
}
