"""The commands about the airframe: `airframe` (models, parts as CSV, a sheet on the scale) and `savings`."""

from collections.abc import Sequence

from calc import wording
from calc.commands import budget_of, program
from calc.document.blocks import FORMAT
from calc.document.budget import read, to_document
from calc.document.fields import FieldRefusedError, described
from calc.document.intake import opened
from calc.document.jsontext import dumps
from calc.document.letters import plain
from calc.document.reading import shortened
from calc.document.zipped import MOST_BYTES
from calc.english import wrapped
from calc.errors import BudgetError
from calc.refusals import Parser, Refusals
from calc.savings import data as savings_data
from calc.savings import find as savings
from calc.savings import words as savings_words
from calc.streams import FileRefusedError, bytes_of, put, tell
from calc.subjects.airframe import shapes
from calc.subjects.airframe import table as airframe_table
from calc.subjects.airframe import words as airframe_words
from calc.subjects.airframe.entries import AirframePart
from calc.subjects.airframe.templates import started, templates
from calc.unit_system import UnitSystem


def find_savings(argv: Sequence[str]) -> int:
    """Run `savings BUDGET [--json]`: what a choice saves on each part of the airframe, the most first."""
    parser = Parser(prog=f"{program()} savings", description="Tell what a choice saves on each part of the airframe.")
    parser.add_argument("budget", help="a budget as JSON with the parts of its airframe; - for standard input")
    parser.add_argument("--json", action="store_true", help="print the list as JSON")
    arguments, refusals = parser.arguments(argv), Refusals()
    budget = budget_of(arguments.budget, refusals)
    if budget is None:
        return refusals.status(as_data=arguments.json)
    found = savings.find(to_document(budget))
    if arguments.json:
        put(dumps(savings_data.as_json(found), indent=1))
    else:
        put("\n".join(line for each in savings_words.lines(found) for line in wrapped(each)))
    return 0


def airframe(argv: Sequence[str]) -> int:
    """Run `airframe [MODEL]`, `--csv BUDGET`, `--table FILE [--into BUDGET]` or `--sheet MASS LENGTH WIDTH THICKNESS`.

    The invented models to start from, or one of them as a budget; a budget's parts as CSV, those of a CSV, ODS or XLSX
    in a budget; a sheet on the scale.
    """
    parser = Parser(prog=f"{program()} airframe", description="Start an airframe: models, parts as CSV, a sheet.")
    parser.add_argument("model", nargs="?", choices=tuple(templates()), help="one of the models: printed as a budget")
    parser.add_argument("--csv", metavar="BUDGET", help="print the parts of a budget's airframe as CSV")
    parser.add_argument("--table", metavar="FILE", help="print the parts of a CSV, ODS or XLSX file as a budget")
    parser.add_argument("--into", metavar="BUDGET", help="with --table: the budget that they go into")
    parser.add_argument("--sheet", nargs=4, metavar=("MASS", "LENGTH", "WIDTH", "THICKNESS"), help="a sheet of wood")
    arguments, refusals = parser.arguments(argv), Refusals()
    if arguments.csv is not None:
        budget = budget_of(arguments.csv, refusals)
        if budget is not None:
            put(airframe_table.to_csv(to_document(budget)).replace("\r\n", "\n").removesuffix("\n"))
    elif arguments.table is not None:
        _put_table(arguments.table, arguments.into, refusals)
    elif arguments.sheet is not None:
        _put_sheet(arguments.sheet, refusals)
    elif arguments.model is not None:
        put(dumps({"format": FORMAT, **started({}, arguments.model)}, indent=1))
    else:
        put("\n".join(f"{key:16}{each.name}: {each.about}" for key, each in templates().items()))
        put("\n".join(["", "What is forgotten:", *(f"- {each}" for each in airframe_words.FORGOTTEN)]))
    return refusals.status(as_data=False) if refusals.errors else 0


def _put_table(name: str, into: str | None, refusals: Refusals) -> None:
    """Print a budget with the parts of a table; what was left aside or makes no sense goes to standard error."""
    budget = None if into is None else budget_of(into, refusals)
    if into is not None and budget is None:
        return
    document = {"format": FORMAT} if budget is None else to_document(budget)
    try:
        table = opened(bytes_of(name, MOST_BYTES), headed=airframe_table.is_headed)
        added = airframe_table.from_table(table, document)
    except FileRefusedError as error:
        refusals.other("not_read", f"{name} cannot be read: {error}", name)
        return
    except BudgetError as error:
        refusals.problem(name, error.problems[0], name_it=False)
        return
    said = [f"Left aside: {', '.join(plain(each[:40]) for each in added.aside[:20])}."] if added.aside else []
    said += [wording.sentence(each.code, each.facts) for each in added.told]
    said += [wording.problem(each) for each in read(added.document).problems]
    for each in said:
        tell(each)
    put(dumps(added.document, indent=1))


OF_A_SHEET = ("mass", "length", "width", "thickness")


def _put_sheet(typed: Sequence[str], refusals: Refusals) -> None:
    """Tell the density of a sheet on the scale; each of its entries has the range that a part of the airframe has."""
    fields, found = described(AirframePart), []
    for text, name in zip(typed, OF_A_SHEET, strict=True):
        try:
            found.append(fields[name].read(text, "metric").value)
        except FieldRefusedError as error:
            told = wording.sentence(error.code, {"typed": shortened(text), **error.facts})
            refusals.other(error.code, f"{fields[name].label}: {told}")
    if refusals.errors:
        return
    density = shapes.sheet_density(*found)
    if SHEETS[0] <= density <= SHEETS[1]:
        put(airframe_words.sheet_sentence(density, UnitSystem.METRIC))
    else:
        refusals.other("out_of_range", NO_SHEET)


SHEETS = (20.0, 1500.0)  # kg/m³, of any wood and foam: our rule
NO_SHEET = "No sheet is as dense, or as light, as this mass and these sizes make it: look at their units."
