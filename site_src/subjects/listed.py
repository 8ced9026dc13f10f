"""The rooms of the page, by the names of the subjects: what works each one's numbers out again.

A room holds the templates `answer.html` and, where there is something to enter, to print or to explain, `form.html`,
`sheet.html` and `method.html`; `workings.py`; and `drawing.py` where it has a picture.
"""

from collections.abc import Callable, Iterable, Mapping

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.unit_system import UnitSystem
from site_src.app.line import Line
from site_src.app.sums import Working
from site_src.subjects.air.workings import workings as air
from site_src.subjects.airframe.lines import airframe_lines
from site_src.subjects.airframe.workings import workings as airframe
from site_src.subjects.balance.workings import workings as balance
from site_src.subjects.field.workings import workings as field
from site_src.subjects.flights.workings import workings as flights
from site_src.subjects.growth.workings import workings as growth
from site_src.subjects.limits.workings import workings as limits
from site_src.subjects.linkage.workings import workings as linkage
from site_src.subjects.motor.workings import workings as motor
from site_src.subjects.power.workings import workings as power
from site_src.subjects.reach.workings import workings as reach
from site_src.subjects.room.workings import workings as room
from site_src.subjects.surface.workings import workings as surface
from site_src.subjects.weights.lines import gear_lines
from site_src.subjects.weights.workings import workings as weights

Lines = Callable[[Budget, Assessment, UnitSystem], Mapping[str, Line]]
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
    "room": room,
    "field": field,
    "reach": reach,
    "flights": flights,
}

# The lists of rows, by their keys in the document, each with what makes texts of its lines.
LINES: Mapping[str, Lines] = {"gear": gear_lines, "airframe": airframe_lines}
