"""`python -m calc FILE [--json]`: a budget file's answer, as a sheet to read or as JSON.

`python -m calc compare A B [--json]` puts two side by side; see `calc.commands` for this and other commands.

Exit status 0 when worked out, 2 with one line per problem on standard error when a document is bad.
"""

import argparse
import sys
from collections.abc import Sequence

from calc import data, text
from calc.assess import assess
from calc.commands import COMMANDS, budget_of
from calc.document.budget import Budget
from calc.document.jsontext import dumps
from calc.streams import put, run


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command; return its exit status."""
    given = sys.argv[1:] if argv is None else list(argv)
    if given and given[0] in COMMANDS:
        return COMMANDS[given[0]](given[1:])
    parser = argparse.ArgumentParser(
        prog="python -m calc",
        description="Work out a radio payload budget.",
        epilog=f"Other commands, each with its own --help: {', '.join(COMMANDS)}.",
    )
    parser.add_argument("file", help="a budget as JSON; - for standard input")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    arguments = parser.parse_args(given)
    budget = budget_of(arguments.file)
    if budget is None:
        return 2
    put(_answer(budget, as_data=arguments.json))
    return 0


def _answer(budget: Budget, *, as_data: bool) -> str:
    if as_data:
        return dumps(data.as_json(assess(budget), budget), indent=1)
    return text.plain_text(budget, assess(budget))


if __name__ == "__main__":
    sys.exit(run(main))
