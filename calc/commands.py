"""What `python -m calc` can do beside the sheet of one file: each command takes its arguments, gives its status."""

import argparse
import json
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from calc import compare_words, finder_command, report, wording
from calc.budget import LONGEST_DOCUMENT, Budget, from_json
from calc.compare import compare
from calc.errors import BudgetError


def budget_of(name: str, told_as: str = "") -> Budget | None:
    """Return the budget in a file (or standard input for `-`), or None once each problem is told on standard error."""
    try:
        return from_json(_text(name))
    except BudgetError as error:
        print("\n".join(f"{told_as}{wording.problem(found)}" for found in error.problems), file=sys.stderr)
    except (OSError, UnicodeDecodeError) as error:
        print(f"{name} cannot be read: {error}", file=sys.stderr)
    return None


def _text(name: str) -> str:
    """Return the text of a file, or of standard input; no more of it than a budget may be long."""
    if name == "-":
        return sys.stdin.read(LONGEST_DOCUMENT + 1)
    with Path(name).open(encoding="utf-8-sig") as source:
        return source.read(LONGEST_DOCUMENT + 1)


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
        print(json.dumps(report.compared_json(found), ensure_ascii=False, indent=1))
    else:
        print(compare_words.sheet(found, after.units.value))
    return 0


COMMANDS: Mapping[str, Callable[[Sequence[str]], int]] = {"compare": compare_files, "finder": finder_command.run}
