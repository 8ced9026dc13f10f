"""The answer as a one-page sheet of plain text, at most 78 characters wide."""

from calc import headline, wording
from calc.assess import Assessment
from calc.document.budget import Budget
from calc.english import wrapped
from calc.subjects.listed import SUBJECTS
from calc.unit_system import UnitSystem


def plain_text(budget: Budget, assessment: Assessment) -> str:
    """Return the sheet for a budget and its assessment."""
    system = UnitSystem.of(budget)
    parts = [[budget.name.value or "Budget without a name"], wrapped(headline.headline(assessment, system))]
    parts += [list(lines) for subject in SUBJECTS for lines in subject.text(assessment, system)]
    parts += [[line for notice in assessment.notices for line in wrapped(wording.notice(notice, system), "* ")]]
    return "\n\n".join("\n".join(lines) for lines in parts if lines)
