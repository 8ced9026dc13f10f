"""How the numbers of the subject power come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.subject import value
from calc.subjects.power import cell as cells
from calc.subjects.power.answer import Power
from calc.subjects.power.entries import Session
from calc.subjects.power.ohms import ohms_of
from calc.subjects.power.words import sensitivity_sentence
from calc.unit_system import UnitSystem
from site_src.app.sums import Working, added, in_mah, minutes, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the power."""
    power = found.power
    if power is None or budget.cell is None or budget.cell.capacity is None:
        return
    rows = [row for row in budget.gear if not row.off.value and _quiet(row) + _busy(row) > 0.0]
    many = "of the rows, added up"
    yield working("mean", "power-mean", "mean draw", "Σ n (q + f (b − q))", added(map(_mean_term, rows), many),
                  f"{num(power.load.mean_a * 1e3)} mA")  # fmt: skip
    yield working("peak", "power-peak", "all at work at once", "Σ n b", added(map(_peak_term, rows), many),
                  f"{num(power.load.peak_a * 1e3)} mA")  # fmt: skip
    yield from _cell_today(budget, budget.cell, power)
    yield from _run(power)
    yield from _session(power)
    if power.sensitivities:
        most = power.sensitivities[0]
        yield Working(
            id="sways",
            entry="power-sways",
            what="what moves it most",
            formula="run time with that alone changed",
            numbers="",
            result=f"{minutes(most.worse_s)} to {minutes(most.better_s)}",
            remark=sensitivity_sentence(most, UnitSystem.of(budget)),
        )


def _mean_term(row: GearRow) -> str:
    quiet, busy = _quiet(row), _busy(row)
    if busy == quiet or not row.busy:
        return f"{row.count.value} × {num(quiet)} mA"
    return f"{row.count.value} × ({num(quiet)} mA + {num(row.busy.value)} × ({num(busy)} mA − {num(quiet)} mA))"


def _peak_term(row: GearRow) -> str:
    return f"{row.count.value} × {num(max(_quiet(row), _busy(row)))} mA"


def _quiet(row: GearRow) -> float:
    return 1e3 * (value(row.draw) or 0.0)


def _busy(row: GearRow) -> float:
    return _quiet(row) if row.busy_draw is None else 1e3 * float(row.busy_draw.value)


def _cell_today(budget: Budget, cell: Cell, power: Power) -> Iterator[Working]:
    kelvin = float((budget.session or Session()).temperature.value)
    capacity_c = 0.0 if cell.capacity is None else cell.capacity.value
    left = "" if cell.capacity_left.value == 1.0 else f" × {num(cell.capacity_left.value)}"
    share, end = ("most", power.ends.high) if power.at_most else ("least", power.ends.low)
    yield working("capacity", "power-capacity", "charge that it gives today",
                   f"C × k(T, rate){' × what age has left' if left else ''}",
                   f"{in_mah(capacity_c)} × {num(end.share)}{left}",
                   in_mah(end.share * end.source.capacity_c),
                   f"{share} at {num(power.ends.rate)} times its charge an hour; the cells worked out give "
                   f"{num(power.ends.low.share)} to {num(power.ends.high.share)} of it")  # fmt: skip
    low, _, high = ohms_of(cell, capacity_c).each
    one = (low if power.at_most else high).settled_ohm
    ratio = cells.resistance_ratio(kelvin)
    leads = power.source.resistance_ohm - cell.series.value * one * ratio
    wiring = f" + {num(leads)} Ω" if leads > 1e-9 else ""
    series = f"{cell.series.value} × " if cell.series.value > 1 else ""
    yield working(
        "resistance", "power-resistance", "resistance at this temperature",
        f"{'cells × ' if series else ''}R × r(T){' + leads' if wiring else ''}",
        f"{series}{num(one)} Ω × {num(ratio)}{wiring}", f"{num(power.source.resistance_ohm)} Ω",
        _how(power),
    )  # fmt: skip


def _how(power: Power) -> str:
    """Return where the resistance is from, at the end that the run is told for."""
    end, usual, meter, sign = (
        ("favourable", "0.070", "2.1", "−") if power.at_most else ("unfavourable", "0.110", "3.2", "+")
    )
    return {
        "usual": f"R, its {end} end, is taken from the capacity: {usual} Ω·Ah / C",
        "meter": f"R, its {end} end, is {meter} times what the meter shows at 1 kHz",
        "bench": f"R, its {end} end, is (V light − V heavy {sign} 0.01 V) / (I heavy − I light)",
        "given": "",
    }[power.resistance_from]


def _run(power: Power) -> Iterator[Working]:
    run, load, source = power.worst, power.load, power.source
    s, ohm = num(min(1.0, run.end_state)), f"{num(source.resistance_ohm)} Ω"
    left = "what then is left, s, is read from the voltage at rest"
    what = "run time, at most" if power.at_most else "run time, at worst"
    if load.supply is not None:
        watts = load.supply.power(load.mean_a)
        yield working("taken", "power-taken", "power taken from the cell", "V i / η",
                       f"{num(load.supply.volts)} V × {num(load.mean_a)} A / {num(load.supply.efficiency)}",
                       f"{num(watts)} W")  # fmt: skip
        yield Working(id="run", entry="power-run-converter", what=what, formula="∫ C v(s) / P ds", numbers="",
                      result=minutes(run.time_s),
                      remark=f"from s = 1 down to s = {s}; v is the voltage under load")  # fmt: skip
        return
    yield from _what_ends(power, left)
    yield working("run", "power-run", what, "(1 − s) C / mean",
                   f"(1 − {s}) × {in_mah(source.capacity_c)} / {num(load.mean_a * 1e3)} mA × 60 min",
                   minutes(run.time_s), f"s, what is left at the end: {s}; in the middle it runs "
                   f"{minutes(power.run.time_s)}, at best {minutes(power.high.time_s)}")  # fmt: skip
    assert run.lowest_v is not None  # only behind a converter can a cell collapse
    more_a = load.peak_a - load.mean_a
    rest = run.lowest_v + load.mean_a * source.resistance_ohm + more_a * power.end.pull_ohm
    yield working("lowest", "power-lowest", "lowest voltage in that run", "OCV(s) − mean × R − (peak − mean) × R_pull",
                   f"{num(rest)} V − {num(load.mean_a)} A × {ohm} − {num(more_a)} A × {num(power.end.pull_ohm)} Ω",
                   f"{num(run.lowest_v)} V")  # fmt: skip


def _what_ends(power: Power, left: str) -> Iterator[Working]:
    """Yield which of the ends stops the run, cells straight on the gear."""
    run, load, source, end = power.worst, power.load, power.source, power.end
    mean, ohm = num(load.mean_a), f"{num(source.resistance_ohm)} Ω"
    if run.end_state <= end.state(power.reserve) + 1e-12:
        yield working("ends", "power-reserve", "what is left at the end", "1 − (1 − reserve) × k(T, rate)",
                       f"1 − (1 − {num(power.reserve)}) × {num(end.share)}", num(end.state(power.reserve)))  # fmt: skip
    elif run.ends_by == "cutoff":
        yield working("ends", "power-cut-off", "at the end, at rest", "cut-off + mean × R",
                       f"{num(source.cutoff_v)} V + {mean} A × {ohm}",
                       f"{num(source.cutoff_v + load.mean_a * source.resistance_ohm)} V", left)  # fmt: skip
    elif run.ends_by == "brownout" and load.min_volts is not None:
        more_a = load.peak_a - load.mean_a
        rest_v = load.min_volts + load.mean_a * source.resistance_ohm + more_a * end.pull_ohm
        yield working("ends", "power-brown-out", "at the end, at rest",
                       "needed voltage + mean × R + (peak − mean) × R_pull",
                       f"{num(load.min_volts)} V + {mean} A × {ohm} + {num(more_a)} A × {num(end.pull_ohm)} Ω",
                       f"{num(rest_v)} V", left)  # fmt: skip


def _session(power: Power) -> Iterator[Working]:
    flown = power.plan
    if flown is None or power.flights is None:
        return
    time, each, pause = (num(seconds / 60.0) for seconds in (power.worst.time_s, flown.on_s, flown.pause_equal_s))
    if flown.pause_equal_s > 0.0:
        yield working("pause", "power-pause", "what a pause takes, as flight", "pause × quiet draw / mean draw",
                       f"{num(flown.pause_s / 60.0)} min × {num(power.quiet_a * 1e3)} mA / "
                       f"{num(power.load.mean_a * 1e3)} mA",
                       f"{pause} min")  # fmt: skip
        yield working("flights", "power-flights", "flights from one charge", "⌊(time + p) / (on + p)⌋",
                       f"⌊({time} min + {pause} min) / ({each} min + {pause} min)⌋", str(power.flights))  # fmt: skip
    else:
        yield working(
            "flights",
            "power-flights",
            "flights from one charge",
            "⌊time / on⌋",
            f"⌊{time} min / {each} min⌋",
            str(power.flights),
        )
    if power.cells_needed is not None and power.session_flights is not None:
        yield working("cells", "power-cells", "charged cells", "⌈flights / flights from one⌉",
                       f"⌈{power.session_flights} / {power.flights}⌉", str(power.cells_needed))  # fmt: skip
