"""`python -m calc FILE… [--json]`: the answer to each budget file, as a sheet to read or as JSON.

`python -m calc compare A B [--json]` puts two side by side; see `calc.commands` for this and other commands. Installed,
the program is called `thistledown`.

Exit status 0 when worked out, 2 with one line per problem on standard error when a file or an argument is bad.
"""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from calc import __version__, data, text
from calc.assess import assess
from calc.commands import COMMANDS, budget_of, program
from calc.document.budget import Budget, to_document
from calc.document.jsontext import dumps
from calc.document.letters import plain
from calc.document.nearest import nearest
from calc.refusals import BAD, Parser, Refusals
from calc.savings import data as savings_data
from calc.savings import find as savings
from calc.streams import put, run

EPILOG = """\
Other commands, each with its own --help:
  changes BUDGET         what would make a budget fit, least change first
  compare BEFORE AFTER   two budgets side by side
  finder BOX BUDGET      the best sets of gear in a box of parts
  airframe [MODEL]       invented models to start from; one of them as a budget
  savings BUDGET         what a choice saves on each part of the airframe
  flight LOG             the parts of the flights in an altimeter's log
  keys                   what each key of the JSON means
  room BUDGET            whether the gear goes into the bays, and where

Exit status: 0 worked out (whatever the verdict); 2 a file or an argument is
bad: a line for each problem on standard error and, with --json, "errors" on
standard output."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command; return its exit status."""
    given = sys.argv[1:] if argv is None else list(argv)
    at = next((place for place, word in enumerate(given) if not word.startswith("-") or word in ("-", "--")), None)
    word = "" if at is None else given[at]
    if at is not None and word in COMMANDS:
        return COMMANDS[word](given[:at] + given[at + 1 :])
    arguments = _arguments(given)
    meant = "" if not word or Path(word).exists() else nearest(word, COMMANDS)
    if meant:
        refusals = Refusals()
        refusals.other("no_such_command", f"There is no file “{word}”. Was the command “{meant}” meant?", near=meant)
        return refusals.status(as_data=arguments.json)
    if len(arguments.file) > 1:
        return _several(arguments.file, as_data=arguments.json)
    refusals = Refusals()
    budget = budget_of(arguments.file[0], refusals)
    if budget is None:
        return refusals.status(as_data=arguments.json)
    put(dumps(_data(budget), indent=1) if arguments.json else _sheet(budget))
    return 0


def _arguments(given: Sequence[str]) -> argparse.Namespace:
    parser = Parser(
        prog=program(),
        description="Work out radio payload budgets.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("file", nargs="+", help="a budget as JSON; - for standard input")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON; of several files a list")
    parser.add_argument("--version", action="version", version=f"thistledown {__version__}")
    return parser.arguments(given)


def _several(names: Sequence[str], *, as_data: bool) -> int:
    """Answer several files, each under its name; a bad one does not keep the others from their answers."""
    answers: list[dict[str, Any]] = []
    bad = False
    for name in names:
        refusals = Refusals()
        budget = budget_of(name, refusals, name_it=True)
        bad = bad or budget is None
        if as_data:
            answers.append(
                {"file": name, **({"errors": refusals.errors} if budget is None else {"answer": _data(budget)})}
            )
        elif budget is not None:
            put(f"== {plain(name)} ==\n\n{_sheet(budget)}\n")
    if as_data:
        put(dumps(answers, indent=1))
    return BAD if bad else 0


def _data(budget: Budget) -> dict[str, Any]:
    """Return the answer as JSON, with what choices save on the airframe: tens of assessments, for the command alone."""
    answer = data.as_json(assess(budget))
    if "airframe" in answer:
        answer["airframe"] |= savings_data.of_airframe(savings.find(to_document(budget)))
    return answer


def _sheet(budget: Budget) -> str:
    return text.plain_text(budget, assess(budget))


def command() -> int:
    """Run as a program, with the streams that it has: what `thistledown` calls."""
    return run(main)


if __name__ == "__main__":
    sys.exit(command())
