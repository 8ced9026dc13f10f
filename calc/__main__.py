"""`python -m calc FILE [--json]`: a budget file's answer, as a sheet to read or as JSON.

`python -m calc finder BOX BUDGET` is in `calc.finder_command`.

Exit status 0 when worked out, 2 with one line per problem on standard error when the document is bad.
"""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

from calc import finder_command, report, sheet, wording
from calc.assess import assess
from calc.budget import LONGEST_DOCUMENT, Budget, from_json
from calc.errors import BudgetError


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command; return its exit status."""
    given = sys.argv[1:] if argv is None else list(argv)
    if given[:1] == ["finder"]:
        return finder_command.run(given[1:])
    parser = argparse.ArgumentParser(prog="python -m calc", description="Work out a radio payload budget.")
    parser.add_argument("file", help="a budget as JSON; - for standard input")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    arguments = parser.parse_args(given)
    try:
        budget = from_json(_text(arguments.file))
    except BudgetError as error:
        print("\n".join(wording.problem(found) for found in error.problems), file=sys.stderr)
        return 2
    except (OSError, UnicodeDecodeError) as error:
        print(f"{arguments.file} cannot be read: {error}", file=sys.stderr)
        return 2
    print(_answer(budget, as_data=arguments.json))
    return 0


def _text(name: str) -> str:
    """Return the text of a file, or of standard input; no more of it than a budget may be long."""
    if name == "-":
        return sys.stdin.read(LONGEST_DOCUMENT + 1)
    with Path(name).open(encoding="utf-8-sig") as source:
        return source.read(LONGEST_DOCUMENT + 1)


def _answer(budget: Budget, *, as_data: bool) -> str:
    if as_data:
        return json.dumps(report.as_json(assess(budget), budget), ensure_ascii=False, indent=1)
    return sheet.sheet(budget, assess(budget))


if __name__ == "__main__":
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(encoding="utf-8", errors="replace")  # type: ignore[union-attr]
    sys.exit(main())
