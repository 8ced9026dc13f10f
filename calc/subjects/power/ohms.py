"""Which resistance of a cell is worked with: measured at the bench, given, from a meter at 1 kHz, or the usual one."""

from dataclasses import dataclass

from calc.document.entries import Cell
from calc.subject import value
from calc.subjects.power import sag
from calc.subjects.power.sag import Reading, Resistance
from calc.vocabulary import ResistanceOrigin

BENCH = ("light_draw", "light_volts", "heavy_draw", "heavy_volts")
DIGIT_V = 0.01  # last digit of a common voltmeter: our assumption


@dataclass(frozen=True, kw_only=True)
class Ohms:
    """Resistance of one cell at 25 °C: favourable, middle, unfavourable; `how` it is known."""

    each: tuple[Resistance, Resistance, Resistance]
    how: ResistanceOrigin


def ohms_of(cell: Cell, capacity_c: float) -> Ohms:
    """Return the resistance of a cell; capacity [C] > 0. A whole measurement at the bench goes first.

    Examples
    --------
    >>> from calc.document.budget import read
    >>> bench = {"light_draw": "20 mA", "light_volts": "3.90 V", "heavy_draw": "70 mA", "heavy_volts": "3.75 V"}
    >>> cell = read({"cell": bench}).budget.cell
    >>> [round(each.settled_ohm, 2) for each in ohms_of(cell, 108.0).each]
    [2.8, 3.0, 3.2]
    >>> ohms_of(Cell(), 108.0).how
    'usual'
    """
    measured = bench_of(cell)
    if measured is not None:
        low, middle, high = (Resistance(at_once_ohm=ohm) for ohm in (measured.low_ohm, measured.ohm, measured.high_ohm))
        return Ohms(each=(low, middle, high), how="bench")
    if cell.resistance is not None:
        own = Resistance(at_once_ohm=cell.resistance.value)
        return Ohms(each=(own, own, own), how="given")
    if cell.meter is not None:
        return Ohms(each=sag.from_meter(cell.meter.value), how="meter")
    return Ohms(each=sag.usual(capacity_c), how="usual")


def bench_of(cell: Cell) -> sag.Bench | None:
    """Return what two loads at the bench tell of a cell; None unless all four readings are there."""
    light_a, light_v, heavy_a, heavy_v = (value(getattr(cell, name)) for name in BENCH)
    if light_a is None or light_v is None or heavy_a is None or heavy_v is None:
        return None
    light, heavy = Reading(volts=light_v, current_a=light_a), Reading(volts=heavy_v, current_a=heavy_a)
    return sag.bench(light, heavy, DIGIT_V)


def bench_missing(cell: Cell) -> tuple[str, ...]:
    """Return the paths of the readings that are missing of a measurement of which some are there."""
    absent = tuple(f"cell.{name}" for name in BENCH if getattr(cell, name) is None)
    return absent if len(absent) < len(BENCH) else ()
