"""The command `flight`: the parts of the flights in a log file."""

import argparse
from collections.abc import Sequence

from calc import units
from calc.document.jsontext import dumps
from calc.errors import BudgetError, QuantityError
from calc.refusals import Parser, Refusals
from calc.streams import FileRefusedError, put, text_of
from calc.subjects.flights import logfile, logwords
from calc.subjects.flights.logs import LONGEST_TEXT, LogError, Wishes
from calc.unit_system import UnitSystem


def _arguments(program: str, argv: Sequence[str]) -> argparse.Namespace:
    parser = Parser(prog=f"{program} flight", description="Tell the parts of the flights in an altimeter's log.")
    parser.add_argument("file", help="an IGC file or a table of times and heights or pressures; - for standard input")
    parser.add_argument("--temperature", help="at the ground, as “8 °C”: puts the heights right")
    parser.add_argument("--unit", choices=("m", "ft", "cm"), default="", help="of the heights, if not as recognised")
    parser.add_argument("--rate", help="samples a second, where the file has no times")
    parser.add_argument("--imperial", action="store_true", help="tell feet")
    parser.add_argument("--json", action="store_true", help="print the flights as JSON")
    return parser.arguments(argv)


def run(program: str, argv: Sequence[str]) -> int:
    """Run `flight FILE [--temperature T] [--unit m|ft|cm] [--rate N] [--imperial] [--json]`."""
    arguments, refusals = _arguments(program, argv), Refusals()
    try:
        found = logfile.read(text_of(arguments.file, LONGEST_TEXT, table=True), _wishes(arguments))
    except QuantityError:
        typed = (arguments.temperature or arguments.rate or "")[:20]
        refusals.other("not_a_number", f"“{typed}” is neither a temperature nor a rate.", typed=typed)
    except (LogError, FileRefusedError) as error:
        refusals.other(getattr(error, "code", "not_read"), f"{arguments.file}: {error}", arguments.file)
    except BudgetError:
        refusals.other("too_large", f"{arguments.file}: {LogError('too_large')}", arguments.file)
    if refusals.errors:
        return refusals.status(as_data=arguments.json)
    if arguments.json:
        put(dumps(logwords.as_json(found), indent=1))
    else:
        system = UnitSystem.IMPERIAL if arguments.imperial else UnitSystem.METRIC
        put("\n".join(logwords.lines(found, system, put_right=arguments.temperature is not None)))
    return 0


def _wishes(arguments: argparse.Namespace) -> Wishes:
    temperature, rate = arguments.temperature, arguments.rate
    per_second = None if rate is None else units.parse(rate, "number", "metric").si
    if per_second is not None and not 0.01 <= per_second <= 1000.0:
        raise QuantityError("not_a_number")
    ground_k = None if temperature is None else units.parse(temperature, "temperature", "metric").si
    if ground_k is not None and not 200.0 <= ground_k <= 340.0:
        raise QuantityError("not_a_number")
    return Wishes(unit=arguments.unit, rate=per_second, ground_k=ground_k)
