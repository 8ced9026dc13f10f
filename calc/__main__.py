"""`python -m calc FILE [--json] [--changes [--box BOX]]`: a budget file's answer, as a sheet to read or as JSON.

With `--changes` also what would make it fit; in the JSON that is the key `changes`.

`python -m calc compare A B [--json]` puts two side by side; see `calc.commands` for this and other commands.

Exit status 0 when worked out, 2 with one line per problem on standard error when a document is bad.
"""

import argparse
import sys
from collections.abc import Sequence

from calc import data, text
from calc.assess import assess
from calc.changes import data as changes_data
from calc.changes import words as changes_words
from calc.changes.find import Found, find
from calc.commands import COMMANDS, box_of, budget_of
from calc.document.box import Box
from calc.document.budget import Budget, to_document
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
    parser.add_argument("--changes", action="store_true", help="tell also what would make it fit, least change first")
    parser.add_argument("--box", help="with --changes: a box of parts, JSON or CSV, to take parts from")
    arguments = parser.parse_args(given)
    if arguments.box is not None and not arguments.changes:
        parser.error("--box goes with --changes")
    budget = budget_of(arguments.file)
    box = Box() if arguments.box is None else box_of(arguments.box)
    if budget is None or box is None:
        return 2
    changes = find(to_document(budget), box) if arguments.changes else None
    put(_answer(budget, changes, as_data=arguments.json))
    return 0


def _answer(budget: Budget, changes: Found | None, *, as_data: bool) -> str:
    if as_data:
        told = {} if changes is None else {"changes": changes_data.as_json(changes)}
        return dumps({**data.as_json(assess(budget), budget), **told}, indent=1)
    lines = [] if changes is None else changes_words.lines(changes)
    return "\n".join([text.sheet(budget, assess(budget)), *([""] if lines else []), *lines])


if __name__ == "__main__":
    sys.exit(run(main))
