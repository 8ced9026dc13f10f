"""What `python -m calc` can do beside the sheet of one file: each command takes its arguments, gives its status."""

import argparse
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, TypeVar

from calc import keys, wording
from calc.changes import data as changes_data
from calc.changes import words as changes_words
from calc.changes.find import find
from calc.compare import data as compare_data
from calc.compare import words as compare_words
from calc.compare.sides import compare
from calc.document.box import Box, is_box, read_box
from calc.document.boxfile import LONGEST_BOX, box_from_text, from_csv
from calc.document.budget import Budget, read, sound, to_document
from calc.document.jsontext import LONGEST_DOCUMENT, dumps, loads
from calc.document.letters import plain
from calc.errors import BudgetError, Problem
from calc.fitting import data as room_data
from calc.fitting import words as room_words
from calc.fitting.find import find as find_room
from calc.fitting.find import in_one_go
from calc.refusals import Parser, Refusals
from calc.search import data as finder_data
from calc.search import finder, wishes
from calc.search import words as finder_words
from calc.streams import FileRefusedError, put, tell, text_of
from calc.unit_system import UnitSystem

Held = TypeVar("Held")
Found = TypeVar("Found")
MIXED_UP = {
    "is_a_box": "{file} is a box of parts, not a budget. What can be made of it: {program} finder {file} BUDGET",
    "is_a_budget": "{file} is a budget, not a box of parts. The box comes first: {program} finder BOX BUDGET",
}


def program() -> str:
    """Return what the command was called as."""
    return "thistledown" if Path(sys.argv[0]).stem == "thistledown" else "python -m calc"


def budget_of(name: str, refusals: Refusals, *, name_it: bool = False) -> Budget | None:
    """Return the budget in a file (standard input for `-`), None once each problem is told; see `Refusals.problem`."""
    return _in_file(name, _budget, refusals, name_it=name_it)


def _in_file(
    name: str, reader: Callable[[str], Held], refusals: Refusals, longest: int = LONGEST_DOCUMENT, *, name_it: bool
) -> Held | None:
    """Return what a reader makes of a file of at most `longest` characters; None once its problems are told."""
    try:
        return reader(text_of(name, longest, table=reader is _box))
    except BudgetError as error:
        for found in error.problems:
            if found.code in MIXED_UP:
                refusals.other(found.code, MIXED_UP[found.code].format(file=name, program=program()), name)
            else:
                refusals.problem(name, found, name_it=name_it)
    except FileRefusedError as error:
        refusals.other("not_read", f"{name} cannot be read: {error}", name)
    return None


def _budget(text: str) -> Budget:
    return sound(_document(text))


def _document(text: str) -> object:
    """Return what a budget's text holds, if it is not that of a box."""
    try:
        document = loads(text)
    except BudgetError as error:
        if error.problems[0].code == "not_json" and _is_table(text):
            raise _mixed_up("is_a_box") from error
        raise
    if is_box(document):
        raise _mixed_up("is_a_box")
    return document


def _is_table(text: str) -> bool:
    """Return whether a text is a box as CSV; what begins as JSON is not, even if it breaks off."""
    if text.lstrip().startswith(("{", "[")):
        return False
    try:
        from_csv(text)
    except BudgetError:
        return False
    return True


def _mixed_up(code: str) -> BudgetError:
    return BudgetError((Problem(field="", code=code),))


def compare_files(argv: Sequence[str]) -> int:
    """Run `compare A B [--json]`: what the second budget has over the first."""
    parser = Parser(prog=f"{program()} compare", description="Put two budgets side by side.")
    parser.add_argument("before", help="a budget as JSON; - for standard input")
    parser.add_argument("after", help="another one")
    parser.add_argument("--json", action="store_true", help="print the comparison as JSON")
    arguments = parser.arguments(argv)
    refusals = Refusals()
    before, after = (budget_of(name, refusals, name_it=True) for name in (arguments.before, arguments.after))
    if before is None or after is None:
        return refusals.status(as_data=arguments.json)
    found = compare(before, after)
    if arguments.json:
        put(dumps(compare_data.compared_json(found), indent=1))
    else:
        put(compare_words.plain_text(found, UnitSystem.of(after)))
    return 0


def _finder_arguments(argv: Sequence[str]) -> argparse.Namespace:
    parser = Parser(prog=f"{program()} finder", description="Find the best sets of gear in a box.")
    parser.add_argument("box", help="a box of parts, JSON or CSV; - for standard input")
    parser.add_argument("budget", help="a budget as JSON: its model and session")
    parser.add_argument("--charges", default="1", help="charged cells that share the flights (1)")
    parser.add_argument("--keep", action="append", default=[], metavar="NAME", help="a part every set must hold")
    parser.add_argument("--bar", action="append", default=[], metavar="NAME", help="a part no set may hold")
    parser.add_argument("--actuator", choices=tuple(wishes.KINDS), default="", help="servos only, or coils only")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    return parser.arguments(argv)


def find_sets(argv: Sequence[str]) -> int:
    """Run `finder BOX BUDGET [--charges N] [--keep NAME] [--bar NAME] [--actuator servo|coil] [--json]`.

    The best sets of gear from a box, for a budget.
    """
    arguments, refusals = _finder_arguments(argv), Refusals()
    charges = wishes.charges_of(arguments.charges)
    if charges is None:
        told = wishes.NO_CHARGES.format(typed=arguments.charges[:20])
        refusals.other("not_charges", f"--charges: {told}", typed=arguments.charges[:20])
        return refusals.status(as_data=arguments.json)
    box = box_of(arguments.box, refusals)
    document = _in_file(arguments.budget, _sound_document, refusals, name_it=False)
    if box is None or document is None:
        return refusals.status(as_data=arguments.json)
    asked = wishes.Wishes(keep=tuple(arguments.keep), bar=tuple(arguments.bar), actuator=arguments.actuator)
    answer = finder.answer(document, box, charges, asked)
    for name in answer.task.unknown:
        refusals.other("no_such_part", f"“{name}” is neither in the box nor in the budget.", typed=name)
    if refusals.errors:
        return refusals.status(as_data=arguments.json)
    if arguments.json:
        put(dumps(finder_data.as_json(answer), indent=1))
    else:
        put(finder_words.plain_text(answer, answer.system))
    return 0


def box_of(name: str, refusals: Refusals) -> Box | None:
    """Return the box in a file, its problems told on standard error; None where the file is no box."""
    box = _in_file(name, _box, refusals, LONGEST_BOX, name_it=False)
    for problem in () if box is None else box.all_problems:
        tell(wording.problem(problem))
    return box


def find_changes(argv: Sequence[str]) -> int:
    """Run `changes BUDGET [--box BOX] [--json]`: what would make a budget fit, least change first."""
    return _with_box(
        "changes", "Tell what would make a budget fit, least change first.", argv,
        find, changes_data.as_json, changes_words.lines,
    )  # fmt: skip


def find_places(argv: Sequence[str]) -> int:
    """Run `room BUDGET [--box BOX] [--json]`: where the gear lies in the bays, or what would make it go in."""
    return _with_box(
        "room", "Tell whether the gear goes into the bays, and where.", argv,
        lambda document, box: in_one_go(find_room(document, box)), room_data.as_json, room_words.lines,
    )  # fmt: skip


def _with_box(
    name: str, description: str, argv: Sequence[str], work: Callable[[dict[str, Any], Box], Found],
    as_json: Callable[[Found], object], lines: Callable[[Found], Iterable[str]],
) -> int:  # fmt: skip
    """Run a command about a budget that may take parts of a box."""
    parser = Parser(prog=f"{program()} {name}", description=description)
    parser.add_argument("budget", help="a budget as JSON; - for standard input")
    parser.add_argument("--box", help="a box of parts to take from, JSON or CSV")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    arguments, refusals = parser.arguments(argv), Refusals()
    budget = budget_of(arguments.budget, refusals)
    box = Box() if arguments.box is None else box_of(arguments.box, refusals)
    if budget is None or box is None:
        return refusals.status(as_data=arguments.json)
    found = work(to_document(budget), box)
    put(dumps(as_json(found), indent=1) if arguments.json else "\n".join(lines(found)))
    return 0


def _box(text: str) -> Box:
    try:
        document = box_from_text(text)
    except BudgetError as error:
        if error.problems[0].code == "not_a_box" and _is_budget(text):
            raise _mixed_up("is_a_budget") from error
        raise
    ignored = document.get("ignored")
    if isinstance(ignored, list) and ignored:
        tell(f"Columns left aside: {', '.join(plain(str(heading)[:40]) for heading in ignored[:20])}.")
    return read_box(document)


def _is_budget(text: str) -> bool:
    """Return whether a JSON text that is no box is a budget's: it has a model or gear."""
    document = loads(text.removeprefix("\ufeff"), LONGEST_BOX)
    return isinstance(document, dict) and bool({"model", "gear"} & set(document))


def _sound_document(text: str) -> dict[str, Any]:
    """Return the document of a sound budget; its gear may lack masses, since the box may fill those places."""
    document = _document(text)
    problems = read(document).problems
    if problems:
        raise BudgetError(problems)
    assert isinstance(document, dict)  # anything else has a problem
    return document


def find_savings(argv: Sequence[str]) -> int:
    """Run `savings BUDGET`: what a choice saves on each part of the airframe."""
    from calc.airframecommands import find_savings as run  # it takes budgets from here

    return run(argv)


def airframe(argv: Sequence[str]) -> int:
    """Run `airframe`: models to start from, parts as CSV, a sheet on the scale."""
    from calc.airframecommands import airframe as run

    return run(argv)


def explain_keys(argv: Sequence[str]) -> int:
    """Run `keys`: what each key of the JSON means."""
    parser = Parser(prog=f"{program()} keys", description="Tell what each key of the JSON means.")
    parser.arguments(argv)
    put(keys.sheet())
    return 0


def read_flight(argv: Sequence[str]) -> int:
    """Run `flight FILE`: the parts of the flights in an altimeter's log."""
    from calc.flightlog.command import run  # nothing else waits for the readers of logs

    return run(program(), argv)


COMMANDS: Mapping[str, Callable[[Sequence[str]], int]] = {
    "airframe": airframe,
    "savings": find_savings,
    "changes": find_changes,
    "compare": compare_files,
    "finder": find_sets,
    "flight": read_flight,
    "keys": explain_keys,
    "room": find_places,
}
