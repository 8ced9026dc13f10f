"""The workings of each subject, for the parts of the answer that show theirs."""

from calc.assess import Assessment
from calc.document.budget import Budget
from site_src.app.sums import Working
from site_src.subjects.listed import ROOMS

PARTS = tuple(ROOMS)


def workings(part: str, budget: Budget, found: Assessment) -> tuple[Working, ...]:
    """Return the workings of a subject; none for a name that no subject has."""
    return tuple(ROOMS[part](budget, found)) if part in ROOMS else ()
