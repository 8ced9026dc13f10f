"""`python -m calc finder BOX BUDGET [--charges N] [--json]`: the best sets of gear from a box, for a budget."""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from calc import finder, finder_sheet, wording
from calc.box import LONGEST_BOX, box_from_text, read_box
from calc.budget import loads, read
from calc.errors import BudgetError


def run(argv: Sequence[str]) -> int:
    """Run the command; return its exit status: 0 when searched, 2 when a file is bad."""
    parser = argparse.ArgumentParser(prog="python -m calc finder", description="Find the best sets of gear in a box.")
    parser.add_argument("box", help="a box of parts, JSON or CSV")
    parser.add_argument("budget", help="a budget as JSON: its model and session")
    parser.add_argument("--charges", type=int, default=1, help="charged cells that share the flights (1)")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    arguments = parser.parse_args(argv)
    try:
        box = read_box(box_from_text(_text(arguments.box)))
        document = _budget(_text(arguments.budget))
    except BudgetError as error:
        print("\n".join(wording.problem(found) for found in error.problems), file=sys.stderr)
        return 2
    except (OSError, UnicodeDecodeError) as error:
        print(f"A file cannot be read: {error}", file=sys.stderr)
        return 2
    for problem in box.all_problems:
        print(wording.problem(problem), file=sys.stderr)
    answer = finder.answer(document, box, arguments.charges)
    system = str(document.get("units", "metric"))
    found = (
        json.dumps(finder_sheet.as_json(answer), ensure_ascii=False, indent=1)
        if arguments.json
        else (finder_sheet.sheet(answer, system))
    )
    print(found)
    return 0


def _text(name: str) -> str:
    with Path(name).open(encoding="utf-8-sig", newline="") as source:
        return source.read(LONGEST_BOX + 1)


def _budget(text: str) -> dict[str, Any]:
    """Return the document of a sound budget; its gear may lack masses, since the box may fill those places."""
    document = loads(text)
    problems = read(document).problems
    if problems:
        raise BudgetError(problems)
    assert isinstance(document, dict)  # anything else has a problem
    return document
