"""What `python -m calc` can do beside the sheet of one file: each command takes its arguments, gives its status."""

import argparse
from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

from calc import wording
from calc.compare import data as compare_data
from calc.compare import words as compare_words
from calc.compare.sides import compare
from calc.document.box import LONGEST_BOX, Box, box_from_text, read_box
from calc.document.budget import Budget, from_json, read
from calc.document.jsontext import LONGEST_DOCUMENT, dumps, loads
from calc.document.letters import plain
from calc.errors import BudgetError
from calc.search import finder, wishes
from calc.search import words as finder_words
from calc.streams import FileRefusedError, put, tell, text_of
from calc.unit_system import UnitSystem

Held = TypeVar("Held")


def budget_of(name: str, told_as: str = "") -> Budget | None:
    """Return the budget in a file (or standard input for `-`), or None once each problem is told on standard error."""
    return _in_file(name, from_json, told_as)


def _in_file(
    name: str, reader: Callable[[str], Held], told_as: str = "", longest: int = LONGEST_DOCUMENT
) -> Held | None:
    """Return what a reader makes of a file of at most `longest` characters; None once its problems are told."""
    try:
        return reader(text_of(name, longest, table=reader is _box))
    except BudgetError as error:
        for found in error.problems:
            tell(f"{told_as}{wording.problem(found)}")
    except FileRefusedError as error:
        tell(f"{name} cannot be read: {error}")
    return None


def compare_files(argv: Sequence[str]) -> int:
    """Run `compare A B [--json]`: what the second budget has over the first."""
    parser = argparse.ArgumentParser(prog="python -m calc compare", description="Put two budgets side by side.")
    parser.add_argument("before", help="a budget as JSON; - for standard input")
    parser.add_argument("after", help="another one")
    parser.add_argument("--json", action="store_true", help="print the comparison as JSON")
    arguments = parser.parse_args(argv)
    before, after = (budget_of(name, f"{name}: ") for name in (arguments.before, arguments.after))
    if before is None or after is None:
        return 2
    found = compare(before, after)
    if arguments.json:
        put(dumps(compare_data.compared_json(found), indent=1))
    else:
        put(compare_words.plain_text(found, UnitSystem.of(after)))
    return 0


def find_sets(argv: Sequence[str]) -> int:
    """Run `finder BOX BUDGET [--charges N] [--keep NAME] [--bar NAME] [--actuator servo|coil] [--json]`.

    The best sets of gear from a box, for a budget.
    """
    parser = argparse.ArgumentParser(prog="python -m calc finder", description="Find the best sets of gear in a box.")
    parser.add_argument("box", help="a box of parts, JSON or CSV; - for standard input")
    parser.add_argument("budget", help="a budget as JSON: its model and session")
    parser.add_argument("--charges", default="1", help="charged cells that share the flights (1)")
    parser.add_argument("--keep", action="append", default=[], metavar="NAME", help="a part every set must hold")
    parser.add_argument("--bar", action="append", default=[], metavar="NAME", help="a part no set may hold")
    parser.add_argument("--actuator", choices=tuple(wishes.KINDS), default="", help="servos only, or coils only")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    arguments = parser.parse_args(argv)
    charges = wishes.charges_of(arguments.charges)
    if charges is None:
        tell(f"--charges: {wishes.NO_CHARGES.format(typed=arguments.charges[:20])}")
        return 2
    box, document = _in_file(arguments.box, _box, longest=LONGEST_BOX), _in_file(arguments.budget, _sound_document)
    if box is None or document is None:
        return 2
    for problem in box.all_problems:
        tell(wording.problem(problem))
    asked = wishes.Wishes(keep=tuple(arguments.keep), bar=tuple(arguments.bar), actuator=arguments.actuator)
    answer = finder.answer(document, box, charges, asked)
    if answer.task.unknown:
        for name in answer.task.unknown:
            tell(f"“{name}” is neither in the box nor in the budget.")
        return 2
    if arguments.json:
        put(dumps(finder_words.as_json(answer), indent=1))
    else:
        put(finder_words.plain_text(answer, answer.system))
    return 0


def _box(text: str) -> Box:
    document = box_from_text(text)
    ignored = document.get("ignored")
    if isinstance(ignored, list) and ignored:
        tell(f"Columns left aside: {', '.join(plain(str(heading)[:40]) for heading in ignored[:20])}.")
    return read_box(document)


def _sound_document(text: str) -> dict[str, Any]:
    """Return the document of a sound budget; its gear may lack masses, since the box may fill those places."""
    document = loads(text)
    problems = read(document).problems
    if problems:
        raise BudgetError(problems)
    assert isinstance(document, dict)  # anything else has a problem
    return document


COMMANDS: Mapping[str, Callable[[Sequence[str]], int]] = {"compare": compare_files, "finder": find_sets}
