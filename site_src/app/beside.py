"""What is said beside the fields of the form: what was wrong, what a text was read as, a class's figures."""

from collections.abc import Iterable, Iterator

from calc import digits, units, wording
from calc.document import classes
from calc.document.blocks import LISTS
from calc.document.budget import BLOCKS, Budget, Reading
from calc.document.fields import Entry, QuantityField, described
from calc.document.systems import is_bare_number
from calc.unit_system import UnitSystem

FEW = 10.0  # a bare number of seconds below it could be meant as minutes, as it was read before there was `bare`


def problems(reading: Reading) -> dict[str, str]:
    """Return a sentence for each field; the first problem of a field is the one told."""
    found: dict[str, str] = {}
    for problem in reading.problems:
        found.setdefault(problem.field, wording.sentence(problem.code, problem.facts))
    return found


def quantities(budget: Budget) -> Iterator[tuple[str, QuantityField, Entry[float]]]:
    """Yield path, field and entry of every quantity that was typed and read."""
    blocks: list[tuple[str, object]] = [("", budget)] + [(key, getattr(budget, key)) for key in BLOCKS]
    blocks += [(f"{key}.{index}", row) for key in LISTS for index, row in enumerate(getattr(budget, key))]
    for path, block in blocks:
        for name, field in _measured(type(block)) if block is not None else ():
            entry = getattr(block, name)
            if entry is not None and entry.typed is not None:
                yield f"{path}.{name}" if path else name, field, entry


_MEASURED: dict[type, tuple[tuple[str, QuantityField], ...]] = {}


def _measured(kind: type) -> tuple[tuple[str, QuantityField], ...]:
    """Return name and field of each quantity of a kind of block."""
    if kind not in _MEASURED:
        fields = described(kind).items()
        _MEASURED[kind] = tuple((name, field) for name, field in fields if isinstance(field, QuantityField))
    return _MEASURED[kind]


def notes(budget: Budget, quantities: Iterable[tuple[str, QuantityField, Entry[float]]]) -> dict[str, str]:
    """Return what is said beside sound fields: what a text in another unit was read as; the class's figures."""
    system = UnitSystem.of(budget)
    found = {
        path: _read_as(entry, field, system)
        for path, field, entry in quantities
        if isinstance(entry.typed, str) or field.bare
    }
    found["model.class"] = _class_note(budget)
    found["field.wind"] = found.get("field.wind") or _wind_note(budget)
    return {path: note for path, note in found.items() if note}


def _read_as(entry: Entry[float], field: QuantityField, system: UnitSystem) -> str:
    """Return what a text was read as where that is not plain from it."""
    typed, unit, dimension = str(entry.typed), field.bare or system.label(field.dimension), field.dimension
    grams = units.speaks_of_gr(typed)
    if field.bare and is_bare_number(entry.typed) and entry.value < FEW and 60.0 * entry.value <= field.high:
        return f"= {digits.given(entry.value, 4)} s; for minutes write {typed.strip()} min"
    if entry.unit == unit and ":" not in typed and not grams:
        return ""
    told = f"= {digits.given(units.from_si(entry.value, unit, dimension), 4)} {unit}"
    return f"{told}; gr read as grams, not grains" if grams else told


def _wind_note(budget: Budget) -> str:
    """Return the winds of the log of flights, where nobody typed one for the field."""
    winds = [each.wind.value for each in budget.flights if each.wind is not None and not each.out.value]
    if not winds or (budget.field is not None and budget.field.wind is not None):
        return ""
    system = UnitSystem.of(budget)
    told = dict.fromkeys(system.fixed(each, "speed", 1) for each in (min(winds), max(winds)))
    return f"Your log of flights has {' to '.join(told)}; the last one {system.fixed(winds[-1], 'speed', 1)}."


def _class_note(budget: Budget) -> str:
    """Return a class's figures in a few words."""
    if "model.class" in budget.unread:
        return ""
    rule, system = classes.table()[budget.model.class_.value], UnitSystem.of(budget)
    parts = [f"at least {system.round_mass(rule.minimum_kg)} {rule.counts}"] if rule.minimum_kg else []
    parts += [f"at most {system.round_mass(rule.maximum_kg)}"] if rule.maximum_kg else []
    parts += [f"rubber up to {system.round_mass(rule.rubber_most_kg)}"] if rule.rubber_most_kg else []
    parts += [rule.sizes] if rule.sizes else []
    parts += [rule.as_of] if parts else []
    return f"{'; '.join(parts)}. Check your current rule book." if parts else ""
