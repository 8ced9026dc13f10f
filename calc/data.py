"""The assessment as plain data, with the unit in each name: what `python -m calc FILE --json` prints.

Other programs rely on these keys.
"""

from typing import Any

from calc.assess import Assessment
from calc.plain import known
from calc.subjects.listed import SUBJECTS


def as_json(assessment: Assessment) -> dict[str, Any]:
    """Return the assessment of a budget as plain data; what could not be worked out is not in it."""
    whole = assessment.whole
    answer: dict[str, Any] = {
        "whole": {"verdict": whole.verdict, "open": whole.open, **whole.parts},
        "missing": {block: list(paths) for block, paths in assessment.missing.items()},
        "notices": [notice.code for notice in assessment.notices],
    }
    for subject in SUBJECTS:
        answer |= subject.data(assessment)
    return {key: known(value) for key, value in answer.items() if value is not None}
