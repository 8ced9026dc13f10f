"""Why a number is what it is: each formula with the visitor's own numbers put in.

A working is a formula, the same with numbers, and the result. Numbers stand in the visitor's units where the formula
keeps them; what is of the air and of forces is in SI, as on the page of methods. They carry four figures, more than
they are known to, so that the sum can be followed; a test works each of them out again.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import degrees

from calc import units
from calc.assess import Assessment
from calc.digits import given
from calc.document.budget import Budget
from calc.document.fields import Entry
from calc.document.parts import Air, Cell, GearRow, Rule, Session, Stock
from calc.english import row_name
from calc.subject import value
from calc.subjects.air.sums import GRAVITY, density
from calc.subjects.limits.allowance import Limit
from calc.subjects.limits.sure import half_width
from calc.subjects.limits.words import LIMITS
from calc.subjects.linkage import sums as rods
from calc.subjects.linkage.sums import Held, Lines, Rod
from calc.subjects.power import cell as cells
from calc.subjects.power.answer import Power
from calc.subjects.power.words import sway_sentence
from calc.subjects.stock.answer import SLEEVE_KG_M3
from calc.subjects.stock.answer import density as density_taken
from calc.subjects.stock.sums import COPPER_KG_M3, STRANDED, STRANDED_WIDER, wire_diameter
from calc.subjects.surface import sums as surfaces
from calc.subjects.weights.answer import RowMass, airframe_mass, as_counted
from calc.subjects.weights.masses import GROWTH, Total

MOST_TERMS = 12  # of a sum that is written out


@dataclass(frozen=True, kw_only=True)
class Working:
    """How one number comes about; `id` names the number on the page, `remark` says what no formula can."""

    id: str
    what: str
    formula: str
    numbers: str
    result: str
    remark: str = ""


def workings(part: str, budget: Budget, found: Assessment) -> tuple[Working, ...]:
    """Return the workings of a part of the answer: `weights`, `limits`, `power`, `balance`, `surface` and so on."""
    return tuple(PARTS[part](budget, found)) if part in PARTS else ()


def _n(number: float, figures: int = 4) -> str:
    """Return a number as it stands in a sum, a negative one in brackets."""
    text = given(number, figures)
    return f"({text})" if number < 0.0 else text


def _in(number: float, dimension: str, system: str, figures: int = 4) -> str:
    label = units.default_unit(dimension, system)
    return f"{_n(units.from_si(number, label, dimension), figures)} {label}"


def _mass(kg: float, budget: Budget) -> str:
    return _in(kg, "mass", budget.units.value)


def _length(meters: float, budget: Budget) -> str:
    return _in(meters, "length", budget.units.value, 6)  # differences of stations are small


def _sum(terms: Iterable[str], all_of_them: str) -> str:
    """Return terms added up, or where they are many only what they are."""
    listed = list(terms)
    return " + ".join(listed) if len(listed) <= MOST_TERMS else all_of_them


def _weights(budget: Budget, found: Assessment) -> Iterator[Working]:
    counted = as_counted(budget)
    for row in found.rows:
        part = counted.cell if row.path == "cell" else counted.gear[int(row.path.removeprefix("gear."))]
        if part is not None and part.mass is not None:
            yield from _row(budget, row, part, part.mass.value)
    if len(found.rows) > 1:
        yield _working("gear", "all the gear, expected", "Σ of the rows",
                       _sum((_mass(row.mass.expected_kg, budget) for row in found.rows), "the rows above, added up"),
                       _mass(found.gear.expected_kg, budget))  # fmt: skip
        squares = (f"({_mass(row.mass.spread_kg, budget)})²" for row in found.rows)
        yield _working("gear.spread", "all the gear, spread", "√(Σ spread²)",
                       f"√({_sum(squares, 'the spreads above, squared and added up')})",
                       _mass(found.gear.spread_kg, budget))  # fmt: skip


def _working(id_: str, what: str, formula: str, numbers: str, result: str, remark: str = "") -> Working:
    return Working(id=id_, what=what, formula=formula, numbers=numbers, result=result, remark=remark)


def _row(budget: Budget, row: RowMass, part: GearRow | Cell, one_kg: float) -> Iterator[Working]:
    name, count = row_name(row.kind, row.name), part.count.value if isinstance(part, GearRow) else 1
    yield from _weighed_or_not(budget, f"{row.path}", name, count, one_kg, row.known_by, row.mass)


def _weighed_or_not(
    budget: Budget, id_: str, name: str, count: int, one_kg: float, known_by: str, mass: Total
) -> Iterator[Working]:  # fmt: skip
    one, growth = _mass(one_kg, budget), GROWTH[known_by]
    many = f"{count} × {one}"
    if known_by == "weighed":
        division = _mass(budget.scale_division.value, budget)
        yield _working(id_, f"{name}, expected", "n m", many, _mass(mass.expected_kg, budget), "weighed: nothing added")
        yield _working(f"{id_}.spread", f"{name}, spread", "2 × ½ scale division / √3", f"2 × 0.5 × {division} / √3",
                       _mass(mass.spread_kg, budget))  # fmt: skip
        return
    why = "a maker’s figure grows" if known_by == "maker" else "a guess grows"
    yield _working(id_, f"{name}, expected", "n m (1 + g)", f"{many} × (1 + {_n(growth)})",
                   _mass(mass.expected_kg, budget), f"{why} by {_n(100 * growth)} %")  # fmt: skip
    yield _working(f"{id_}.spread", f"{name}, spread", "2 n g m / √3", f"2 × {count} × {_n(growth)} × {one} / √3",
                   _mass(mass.spread_kg, budget))  # fmt: skip


def _limits(budget: Budget, found: Assessment) -> Iterator[Working]:
    model = found.model
    airframe = airframe_mass(budget, budget.scale_division.value)
    if airframe is not None:
        weighed = budget.model.airframe_weighed is not None
        known_by = "weighed" if weighed else budget.model.airframe_known_by.value
        yield from _weighed_or_not(budget, "airframe", "airframe A", 1, airframe.nominal_kg, known_by, airframe)
    airframe_spread_kg = 0.0 if airframe is None else airframe.spread_kg
    for limit, led in zip(found.limits, found.limits_with_lead, strict=True):
        yield from _limit(budget, found, limit, led, airframe_spread_kg)
    if model.flying_kg is not None and model.airframe_kg is not None and model.share is not None:
        gear, a, flying = (_mass(kg, budget) for kg in (found.gear.expected_kg, model.airframe_kg, model.flying_kg))
        lead = f" + {_mass(model.lead_kg, budget)}" if model.lead_kg > 0.0 else ""
        yield _working("flying", "flying mass", f"A + gear{' + lead' if lead else ''}", f"{a} + {gear}{lead}", flying)
        if model.with_rubber_kg is not None and model.with_rubber_kg > model.flying_kg:
            rubber = _mass(model.with_rubber_kg - model.flying_kg, budget)
            yield _working("with_rubber", "with rubber", "flying mass + rubber", f"{flying} + {rubber}",
                           _mass(model.with_rubber_kg, budget))  # fmt: skip
        yield from _all_up(budget, found)
        top = f"({gear}{lead})" if lead else gear
        yield _working("gear_share", "gear’s share", f"{'(gear + lead)' if lead else 'gear'} / flying mass",
                       f"{top} / {flying} × 100 %", f"{_n(100 * model.share)} %")  # fmt: skip
    yield from _class(budget, found)
    yield from _chances(budget, found)


def _all_up(budget: Budget, found: Assessment) -> Iterator[Working]:
    model = found.model
    if model.all_up_kg is None or model.flying_kg is None:
        return
    parts = {"ballast": model.ballast_kg, "rubber": model.all_up_kg - model.ballast_kg - model.flying_kg}
    there = {name: kg for name, kg in parts.items() if kg > 1e-12}
    if there:
        yield _working("all_up", "all-up weight", " + ".join(["flying mass", *there]),
                       " + ".join(_mass(kg, budget) for kg in (model.flying_kg, *there.values())),
                       _mass(model.all_up_kg, budget))  # fmt: skip


def _chances(budget: Budget, found: Assessment) -> Iterator[Working]:
    if found.chance is None:
        return
    widths = [half_width(row.mass) for row in found.rows]
    reach = _sum((_mass(width, budget) for width in widths), "the half-widths of the rows, added up")
    yield _working("reach", "the farthest that the gear can be off", "Σ of the half-widths √3/2 × spread", reach,
                   _mass(sum(widths), budget))  # fmt: skip
    yield Working(id="chance", what="the chance that it is within all limits", numbers="",
                  formula="F(in hand), F of the sum of the rectangles", result=f"{_n(100 * found.chance.all)} %",
                  remark="each mass anywhere between its ends; the method page has the formula")  # fmt: skip


def _limit(
    budget: Budget, found: Assessment, limit: Limit, led: Limit, airframe_spread_kg: float
) -> Iterator[Working]:  # fmt: skip
    name, (formula, numbers), effect = LIMITS[limit.id], _allows(budget, found, limit), _effect(budget, found, limit)
    allows, gear = _mass(limit.allows_kg, budget), _mass(found.gear.expected_kg, budget)
    yield _working(limit.id, f"{name}, allows", formula, numbers, allows)
    yield _working(f"{limit.id}.in_hand", f"{name}, in hand", "allows − gear", f"{allows} − {gear}",
                   _mass(limit.in_hand_kg, budget))  # fmt: skip
    if found.lead_kg > 0.0:
        in_hand, lead = _mass(limit.in_hand_kg, budget), _mass(found.lead_kg, budget)
        yield _working(f"{limit.id}.led", f"{name}, with lead", "in hand − lead", f"{in_hand} − {lead}",
                       _mass(led.in_hand_kg, budget))  # fmt: skip
    spreads = _mass(found.gear.spread_kg, budget), _mass(airframe_spread_kg, budget)
    yield _working(
        f"{limit.id}.spread", f"{name}, spread", "√(gear’s² + (effect × airframe’s)²)",
        f"√(({spreads[0]})² + ({_n(effect)} × {spreads[1]})²)", _mass(limit.spread_kg, budget),
        "effect: by how much the limit moves with the airframe",
    )  # fmt: skip


def _effect(budget: Budget, found: Assessment, limit: Limit) -> float:
    if limit.id != "share" or found.model.airframe_kg is None:
        return 0.0 if found.model.airframe_kg is None else 1.0
    share = _share(budget)
    return share / (1.0 - share)


def _share(budget: Budget) -> float:
    return float((budget.rule or Rule()).share.value)


def _allows(budget: Budget, found: Assessment, limit: Limit) -> tuple[str, str]:
    """Return formula and numbers of what a limit allows."""
    model, airframe_kg, p = budget.model, found.model.airframe_kg, _n(_share(budget))
    if airframe_kg is None:
        whole_kg = limit.allows_kg / _share(budget)
        return "p × the whole model", f"{p} × {_mass(whole_kg, budget)}"
    a = _mass(airframe_kg, budget)
    if limit.id == "share":
        nominal_kg = limit.allows_kg * (1.0 - _share(budget)) / _share(budget)
        return "p A₀ / (1 − p), A₀ without growth", f"{p} × {_mass(nominal_kg, budget)} / (1 − {p})"
    if limit.id == "loading":
        rubber_kg = value(model.rubber) or 0.0
        carried = _mass(limit.allows_kg + airframe_kg + rubber_kg, budget)
        return "w S − A − rubber", f"{carried} − {a} − {_mass(rubber_kg, budget)}"
    name = "target − A" if limit.id == "target" else "class maximum − A"
    return name, f"{_mass(limit.allows_kg + airframe_kg, budget)} − {a}"


def _class(budget: Budget, found: Assessment) -> Iterator[Working]:
    class_, model = found.class_, found.model
    if class_.minimum_kg is None or class_.use == "sport" or model.flying_kg is None or model.airframe_kg is None:
        return
    least, flying = _mass(class_.minimum_kg, budget), _mass(model.flying_kg, budget)
    if class_.short_kg:
        yield _working("short", "below the class minimum", "minimum − flying mass", f"{least} − {flying}",
                       _mass(class_.short_kg, budget))  # fmt: skip
    if class_.free_kg:
        a = _mass(model.airframe_kg, budget)
        yield _working("free", "gear that costs nothing", "minimum − A", f"{least} − {a}",
                       _mass(class_.free_kg, budget))  # fmt: skip


def _power(budget: Budget, found: Assessment) -> Iterator[Working]:
    power = found.power
    if power is None or budget.cell is None or budget.cell.capacity is None:
        return
    rows = [row for row in budget.gear if not row.off.value and (value(row.draw) or value(row.busy_draw))]
    yield _working("mean", "mean draw", "Σ n (q + f (b − q))", _sum(map(_mean_term, rows), "of the rows, added up"),
                   f"{_n(power.load.mean_a * 1e3)} mA")  # fmt: skip
    yield _working("peak", "all at work at once", "Σ n b", _sum(map(_peak_term, rows), "of the rows, added up"),
                   f"{_n(power.load.peak_a * 1e3)} mA")  # fmt: skip
    yield from _cell_today(budget, budget.cell, power)
    yield from _run(power)
    yield from _session(power)
    if power.sways:
        most = power.sways[0]
        yield Working(id="sways", what="what moves it most", formula="run time with that alone changed", numbers="",
                      result=f"{_minutes(most.worse_s)} to {_minutes(most.better_s)}",
                      remark=sway_sentence(most, budget.units.value))  # fmt: skip


def _mean_term(row: GearRow) -> str:
    quiet, busy = _quiet(row), _busy(row)
    if busy == quiet or not row.busy:
        return f"{row.count.value} × {_n(quiet)} mA"
    return f"{row.count.value} × ({_n(quiet)} mA + {_n(row.busy.value)} × ({_n(busy)} mA − {_n(quiet)} mA))"


def _peak_term(row: GearRow) -> str:
    return f"{row.count.value} × {_n(max(_quiet(row), _busy(row)))} mA"


def _quiet(row: GearRow) -> float:
    return 1e3 * (value(row.draw) or 0.0)


def _busy(row: GearRow) -> float:
    return _quiet(row) if row.busy_draw is None else 1e3 * float(row.busy_draw.value)


def _cell_today(budget: Budget, cell: Cell, power: Power) -> Iterator[Working]:
    kelvin = float((budget.session or Session()).temperature.value)
    capacity_c = 0.0 if cell.capacity is None else cell.capacity.value
    left = "" if cell.capacity_left.value == 1.0 else f" × {_n(cell.capacity_left.value)}"
    yield _working("capacity", "capacity at this temperature", f"C × k(T){' × what age has left' if left else ''}",
                   f"{_n(capacity_c / 3.6)} mAh × {_n(cells.capacity_share(kelvin))}{left}",
                   f"{_n(power.source.capacity_c / 3.6)} mAh")  # fmt: skip
    one = cells.resistance_from_capacity(capacity_c) if cell.resistance is None else cell.resistance.value
    ratio = cells.resistance_ratio(kelvin)
    leads = power.source.resistance_ohm - cell.series.value * one * ratio
    wiring = f" + {_n(leads)} Ω" if leads > 1e-9 else ""
    series = f"{cell.series.value} × " if cell.series.value > 1 else ""
    yield _working(
        "resistance", "resistance at this temperature",
        f"{'cells × ' if series else ''}R × r(T){' + leads' if wiring else ''}",
        f"{series}{_n(one)} Ω × {_n(ratio)}{wiring}", f"{_n(power.source.resistance_ohm)} Ω",
        "R is taken from the capacity: 0.034 Ω·Ah / C" if power.resistance_assumed else "",
    )  # fmt: skip


def _run(power: Power) -> Iterator[Working]:
    run, load, source = power.run, power.load, power.source
    s, ohm = _n(min(1.0, run.end_state)), f"{_n(source.resistance_ohm)} Ω"
    left = "what then is left, s, is read from the voltage at rest"
    if load.supply is not None:
        watts = load.supply.power(load.mean_a)
        yield _working("taken", "power taken from the cell", "V i / η",
                       f"{_n(load.supply.volts)} V × {_n(load.mean_a)} A / {_n(load.supply.efficiency)}",
                       f"{_n(watts)} W")  # fmt: skip
        yield Working(id="run", what="run time", formula="∫ C k v(s) / P ds", numbers="", result=_minutes(run.time_s),
                      remark=f"from s = 1 down to s = {s}; v is the voltage under load")  # fmt: skip
        return
    if run.ends_by == "cutoff":
        yield _working("ends", "at the end, at rest", "cut-off + mean × R",
                       f"{_n(source.cutoff_v)} V + {_n(load.mean_a)} A × {ohm}",
                       f"{_n(source.cutoff_v + load.mean_a * source.resistance_ohm)} V", left)  # fmt: skip
    elif run.ends_by == "brownout" and load.min_volts is not None:
        yield _working("ends", "at the end, at rest", "needed voltage + peak × R",
                       f"{_n(load.min_volts)} V + {_n(load.peak_a)} A × {ohm}",
                       f"{_n(load.min_volts + load.peak_a * source.resistance_ohm)} V", left)  # fmt: skip
    yield _working("run", "run time", "(1 − s) C k / mean",
                   f"(1 − {s}) × {_n(source.capacity_c / 3.6)} mAh / {_n(load.mean_a * 1e3)} mA × 60 min",
                   _minutes(run.time_s), f"s, what is left at the end: {s}")  # fmt: skip
    rest = run.lowest_v + load.peak_a * source.resistance_ohm
    yield _working("lowest", "lowest voltage", "OCV(s) − peak × R", f"{_n(rest)} V − {_n(load.peak_a)} A × {ohm}",
                   f"{_n(run.lowest_v)} V")  # fmt: skip


def _minutes(seconds: float) -> str:
    return f"{_n(seconds / 60.0)} min"


def _session(power: Power) -> Iterator[Working]:
    flown = power.plan
    if flown is None or power.flights is None:
        return
    time, each, pause = (_n(seconds / 60.0) for seconds in (power.run.time_s, flown.on_s, flown.pause_equal_s))
    if flown.pause_equal_s > 0.0:
        yield _working("pause", "what a pause takes, as flight", "pause × quiet draw / mean draw",
                       f"{_n(flown.pause_s / 60.0)} min × {_n(power.quiet_a * 1e3)} mA / "
                       f"{_n(power.load.mean_a * 1e3)} mA",
                       f"{pause} min")  # fmt: skip
        yield _working("flights", "flights from one charge", "⌊(time + p) / (on + p)⌋",
                       f"⌊({time} min + {pause} min) / ({each} min + {pause} min)⌋", str(power.flights))  # fmt: skip
    else:
        yield _working("flights", "flights from one charge", "⌊time / on⌋", f"⌊{time} min / {each} min⌋",
                       str(power.flights))  # fmt: skip
    if power.cells_needed is not None and power.session_flights is not None:
        yield _working("cells", "charged cells", "⌈flights / flights from one⌉",
                       f"⌈{power.session_flights} / {power.flights}⌉", str(power.cells_needed))  # fmt: skip


def _balance(budget: Budget, found: Assessment) -> Iterator[Working]:
    block = found.balance
    if block is None:
        return

    def moments(without_rubber: bool) -> Working:
        parts = [part for part in block.placed if not (without_rubber and part.path == "model.rubber")]
        whole_kg = sum(part.mass_kg for part in parts)
        terms = (f"{_mass(part.mass_kg, budget)} × {_length(part.station_m, budget)}" for part in parts)
        at_m = block.cg_without_rubber_m if without_rubber else block.cg_m
        what = "balances without rubber at" if without_rubber else "balances at"
        return _working("cg_without_rubber" if without_rubber else "cg", what, "Σ m x / Σ m",
                        f"({_sum(terms, 'each mass times its station')}) / {_mass(whole_kg, budget)}",
                        _length(at_m, budget))  # fmt: skip

    yield moments(without_rubber=False)
    if block.cg_without_rubber_m != block.cg_m:
        yield moments(without_rubber=True)
    if block.target_m is None or block.off_m is None:
        return
    at, wanted, whole = _length(block.cg_m, budget), _length(block.target_m, budget), _mass(block.mass_kg, budget)
    yield _working("off", "off the wanted point", "x − t", f"{at} − {wanted}", _length(block.off_m, budget))
    if block.ballast is not None:
        lead_at = _length(block.ballast.station_m, budget)
        yield _working("lead", f"lead at the {block.ballast.end}", "M (t − x) / (b − t)",
                       f"{whole} × ({wanted} − {at}) / ({lead_at} − {wanted})",
                       _mass(block.ballast.mass_kg, budget))  # fmt: skip
    masses = {part.path: part.mass_kg for part in block.placed}
    for move in block.moves:
        yield _working(f"move.{move.path}", f"{move.name}, to", "x of the part + M (t − x) / m",
                       f"{_length(move.from_m, budget)} + {whole} × ({wanted} − {at}) / "
                       f"{_mass(masses[move.path], budget)}", _length(move.to_m, budget))  # fmt: skip


def _surface(budget: Budget, found: Assessment) -> Iterator[Working]:
    block, asked = found.surface, budget.surface
    if block is None or asked is None:
        return
    air, session = budget.air or Air(), budget.session or Session()
    rho = density(air.field_height.value, session.temperature.value)
    pressure = surfaces.dynamic_pressure(rho, block.speed_m_s)
    yield _working("pressure", "dynamic pressure q", "½ ρ V²", f"0.5 × {_n(rho)} kg/m³ × ({_n(block.speed_m_s)} m/s)²",
                   f"{_n(pressure)} Pa")  # fmt: skip
    span, chord, delta = (value(each) or 0.0 for each in (asked.span, asked.chord, asked.deflection))
    if asked.kind.value == "hinged":
        flap = value(asked.flap_chord) or 0.0
        slope = abs(surfaces.hinge_moment_b2(min(1.0, flap / chord)))
        yield _working("moment", "moment of the air", "|b₂(E)| δ q × span × flap chord²",
                       f"{_n(slope)} × {_n(delta)} × {_n(pressure)} Pa × {_n(span)} m × ({_n(flap)} m)² × 1000",
                       f"{_n(block.moment_nm * 1e3)} mN·m", f"E, the flap’s share of the chord: {_n(flap / chord)}; "
                       "δ in radians")  # fmt: skip
    else:
        arm = abs(asked.pivot.value - 0.25)
        yield _working("moment", "moment of the air", "q × span × chord × a(AR) δ |x_pivot − ¼| × chord",
                       f"{_n(pressure)} Pa × {_n(span)} m × {_n(chord)} m × {_n(surfaces.lift_slope(span / chord))} × "
                       f"{_n(delta)} × {_n(arm)} × {_n(chord)} m × 1000",
                       f"{_n(block.moment_nm * 1e3)} mN·m", "δ in radians")  # fmt: skip
    yield from _actuator(budget, found)


def _actuator(budget: Budget, found: Assessment) -> Iterator[Working]:
    block, asked = found.surface, budget.surface
    if block is None or asked is None:
        return
    linear = asked.actuator.value == "linear servo"
    unit, moment = ("N" if linear else "mN·m"), f"{_n(block.moment_nm * 1e3)} mN·m"
    scale = 1.0 if linear else 1e3
    if block.need is not None and asked.horn is not None and asked.actuator.value != "coil actuator":
        horn = f"{_n(asked.horn.value * 1e3)} mm"
        arm = f" × {_n((value(asked.arm) or 0.0) * 1e3)} mm" if not linear else ""
        yield _working("need", "asked of the actuator", "moment / horn" if linear else "moment × arm / horn",
                       f"{moment}{arm} / {horn}", f"{_n(block.need * scale)} {unit}")  # fmt: skip
    if block.factor is not None and block.need is not None and block.rated is not None:
        yield _working("factor", "times as strong as needed", "rated / need",
                       f"{_n(block.rated * scale)} {unit} / {_n(block.need * scale)} {unit}",
                       _n(block.factor))  # fmt: skip
    if block.throw_rad is not None and linear and asked.stroke is not None and asked.horn is not None:
        yield _working("throw", "throw each way", "asin(stroke / horn)",
                       f"asin({_n(asked.stroke.value * 1e3)} mm / {_n(asked.horn.value * 1e3)} mm)",
                       f"{_n(degrees(block.throw_rad[0]))}°")  # fmt: skip
    elif block.throw_rad is not None:
        pull, push = (f"{_n(degrees(each))}°" for each in block.throw_rad)
        yield Working(id="throw", what="throw", formula="the rod keeps its length between arm and horn", numbers="",
                      result=pull if pull == push else f"{pull} and {push}", remark="solved exactly")  # fmt: skip


def _linkage(budget: Budget, found: Assessment) -> Iterator[Working]:
    block, surface = found.linkage, budget.surface
    if block is None or surface is None or surface.horn is None:
        return
    horn_m = surface.horn.value
    yield _working("force", "force along it", "moment / horn",
                   f"{_n(block.force_n * horn_m * 1e3)} mN·m / {_n(horn_m * 1e3)} mm",
                   f"{_n(block.force_n)} N")  # fmt: skip
    if block.made_of is not None and block.held is not None:
        yield from _holds("linkage", "your own", block.made_of, block.held, block.force_n, horn_m)
    for index, choice in enumerate(block.choices):
        yield from _holds(f"choice.{index}", choice.name, choice.made_of, choice.held, block.force_n, horn_m)


def _holds(
    id_: str, name: str, made_of: Rod | Lines, held: Held, force_n: float, horn_m: float
) -> Iterator[Working]:  # fmt: skip
    """Yield mass, times the load and lost angle of a linkage."""
    formulas = _rod_sums(made_of) if isinstance(made_of, Rod) else _line_sums(made_of)
    (mass, grams), (strength, newtons), (stretch, per_newton) = formulas
    yield _working(f"{id_}.mass", f"{name}, mass", mass, grams, f"{_n(held.mass_kg * 1e3)} g")
    if force_n > 0.0:
        yield _working(f"{id_}.factor", f"{name}, times the load", f"{strength} / F", f"{newtons} / {_n(force_n)} N",
                       _n(held.factor))  # fmt: skip
    yield _working(f"{id_}.lost", f"{name}, angle lost", f"{stretch} / horn",
                   f"{_n(force_n)} N × {per_newton} / {_n(horn_m * 1e3)} mm × 57.3°",
                   f"{_n(held.lost_deg)}°")  # fmt: skip


def _rod_sums(rod: Rod) -> tuple[tuple[str, str], tuple[str, str], tuple[str, str]]:
    """Return formula and numbers of a rod's mass, its strength, and its stretch per newton."""
    area, length, modulus = (
        f"{_n(rods.section(rod) * 1e6)} mm²",
        f"{_n(rod.length_m)} m",
        _n(rod.material.modulus_pa / 1e9),
    )
    inertia, free = _n(rods.second_moment(rod) * 1e12), _n(rod.free_m * 1e3)
    return (
        ("section × length × density + ends",
         f"{area} × {length} × {_n(rod.material.density_kg_m3 / 1e3)} g/cm³ + {_n(rod.ends_kg * 1e3)} g"),
        ("π² E I / L²", f"π² × {modulus} GPa × {inertia} mm⁴ / ({free} mm)² × 1000"),
        ("F L / (E × section)", f"{length} / ({modulus} GPa × {area})"),
    )  # fmt: skip


def _line_sums(lines: Lines) -> tuple[tuple[str, str], tuple[str, str], tuple[str, str]]:
    """Return formula and numbers of the lines' mass, of the strength of one, and its stretch per newton."""
    yarn, tex, length = lines.yarn, f"{_n(lines.tex)} tex", f"{_n(lines.length_m)} m"
    return (
        ("2 L × tex + ends", f"2 × {length} × {_n(lines.tex / 1e3)} g/m + {_n(lines.ends_kg * 1e3)} g"),
        ("tenacity × tex × knot", f"{_n(yarn.tenacity_n_tex)} N/tex × {tex} × {_n(rods.KNOTS[lines.knot])}"),
        ("F L / (modulus × tex)", f"{length} / ({_n(yarn.modulus_n_tex)} N/tex × {tex}) × 1000"),
    )


def _air(budget: Budget, found: Assessment) -> Iterator[Working]:
    block = found.air
    if block is None:
        return
    c, system = block.conditions, budget.units.value
    kg, rho, area = f"{_n(block.mass_kg)} kg", f"{_n(c.density_kg_m3)} kg/m³", f"{_n(c.area_m2)} m²"
    lift = 2.0 * block.mass_kg * GRAVITY / (c.density_kg_m3 * c.area_m2)
    yield _working("loading", "wing loading", "m / S", f"{kg} / {area}", f"{_n(block.loading_kg_m2)} kg/m²",
                   f"m: with rubber, and with what a contest adds up to the minimum; "
                   f"= {_in(block.loading_kg_m2, 'loading', system)}")  # fmt: skip
    yield _working("speed", "flies", "√(2 m g / (ρ S CL))",
                   f"√(2 × {kg} × {_n(GRAVITY)} m/s² / ({rho} × {area} × {_n(c.lift_coefficient)}))",
                   f"{_n(block.speed_m_s)} m/s")  # fmt: skip
    yield _working("sink", "sinks", "√(2 m g / (ρ S)) / Φ",
                   f"√(2 × {kg} × {_n(GRAVITY)} m/s² / ({rho} × {area})) / {_n(c.glide_factor)}",
                   f"{_n(block.sink_m_s)} m/s")  # fmt: skip
    if c.glide_factor_from == "timed" and budget.air and budget.air.timed_height and budget.air.timed_glide:
        timed_s, height_m = budget.air.timed_glide.value, budget.air.timed_height.value
        yield _working("glide_factor", "glide factor Φ", "√(2 m g / (ρ S)) × glide / height",
                       f"√({_n(lift)}) m/s × {_n(timed_s)} s / {_n(height_m)} m",
                       _n(c.glide_factor))  # fmt: skip
    if block.time_s is None or block.time_without_gear_s is None or block.time_kept is None:
        return
    time, without = f"{_n(block.time_s)} s", f"{_n(block.time_without_gear_s)} s"
    if block.efficiency is None:
        height = block.time_s * block.sink_m_s
        yield _working("time", "still-air time", "h / w", f"{_n(height)} m / {_n(block.sink_m_s)} m/s", time)
        how = "goes with m to the power −½"
    else:
        energy = block.time_s * block.mass_kg * GRAVITY * block.sink_m_s / block.efficiency
        yield _working("time", "still-air time", "η E / (m g w)",
                       f"{_n(block.efficiency)} × {_n(energy)} J / "
                       f"({kg} × {_n(GRAVITY)} m/s² × {_n(block.sink_m_s)} m/s)",
                       time)  # fmt: skip
        how = "goes with m to the power −1.5"
    yield Working(id="time_without", what="without the gear", formula="the same with the mass it then has", numbers="",
                  result=without, remark=how)  # fmt: skip
    yield _working("time_kept", "time kept", "with / without", f"{time} / {without} × 100 %",
                   f"{_n(100.0 * block.time_kept)} %")  # fmt: skip


def _growth(budget: Budget, found: Assessment) -> Iterator[Working]:
    block = found.growth
    for row in () if block is None else block.rows:
        yield _working(row.path, f"{row.name}, change", "weighed − planned, all of the row",
                       f"{_mass(row.weighed_kg, budget)} − {_mass(row.planned_kg, budget)}",
                       _mass(row.change_kg, budget))  # fmt: skip
    if block is not None and len(block.rows) > 1:
        yield _working("together", "together", "Σ weighed − Σ planned",
                       f"{_mass(block.now_kg, budget)} − {_mass(block.planned_kg, budget)}",
                       _mass(block.change_kg, budget))  # fmt: skip


PARTS = {
    "weights": _weights,
    "limits": _limits,
    "growth": _growth,
    "power": _power,
    "balance": _balance,
    "surface": _surface,
    "linkage": _linkage,
    "air": _air,
}


def stock_working(piece: Stock, mass_kg: float) -> Working:
    """Return how the mass of a piece of stock comes about; all its dimensions are there."""
    formula, numbers = _STOCK[piece.shape.value](piece)
    if piece.pieces.value != 1:
        formula, numbers = f"pieces × ({formula})", f"{piece.pieces.value} × ({numbers})"
    return _working("stock", "mass", formula, numbers, f"{_n(mass_kg * 1e3)} g")


def _mm(entry: Entry[float] | None) -> str:
    return f"{_n((value(entry) or 0.0) * 1e3)} mm"


def _rho(piece: Stock) -> str:
    return f"{_n(density_taken(piece) / 1e3)} g/cm³"


def _round(piece: Stock) -> tuple[str, str]:
    wide = f"({_mm(piece.diameter)})²"
    if piece.shape.value == "tube":
        formula, section = "π/4 (d² − b²)", f"π / 4 × ({wide} − ({_mm(piece.bore)})²)"
    else:
        formula, section = "π/4 d²", f"π / 4 × {wide}"
    return f"{formula} × length × density", f"{section} × {_mm(piece.length)} × {_rho(piece)} / 1000"


def _wire(piece: Stock) -> tuple[str, str]:
    core_m, stranded = wire_diameter(value(piece.gauge) or 0.0), piece.strands.value == "stranded"
    copper = f"π / 4 × ({_n(core_m * 1e3)} mm)² × {_mm(piece.length)} × {_n(COPPER_KG_M3 / 1e3)} g/cm³ / 1000"
    formula, numbers = ("π/4 d² × length × density", copper)
    if stranded:
        formula, numbers = f"{formula} × lay", f"{numbers} × {_n(STRANDED)}"
    wide_m = core_m * (STRANDED_WIDER if stranded else 1.0)
    if piece.over_all is None or piece.over_all.value <= wide_m:
        return formula, numbers
    sleeve = f"π / 4 × (({_mm(piece.over_all)})² − ({_n(wide_m * 1e3)} mm)²) × {_mm(piece.length)}"
    return f"{formula} + sleeve", f"{numbers} + {sleeve} × {_n(SLEEVE_KG_M3 / 1e3)} g/cm³ / 1000"


def _area(piece: Stock) -> str:
    return f"{_n(value(piece.area) or 0.0)} m²"


_STOCK: Mapping[str, Callable[[Stock], tuple[str, str]]] = {
    "rod": _round,
    "tube": _round,
    "strip": lambda p: (
        "width × thickness × length × density",
        f"{_mm(p.width)} × {_mm(p.thickness)} × {_mm(p.length)} × {_rho(p)} / 1000",
    ),
    "wire": _wire,
    "thread": lambda p: (
        "tex × length",
        f"{_n((value(p.tex) or 0.0) * 1e6)} tex × {_n(value(p.length) or 0.0)} m / 1000",
    ),
    "film": lambda p: (
        "area × thickness × density",
        f"{_area(p)} × {_n((value(p.thickness) or 0.0) * 1e6)} µm × {_rho(p)}",
    ),
    "cloth": lambda p: ("area × weight", f"{_area(p)} × {_n((value(p.weight) or 0.0) * 1e3)} g/m²"),
    "filler": lambda p: ("volume × density", f"{_n((value(p.volume) or 0.0) * 1e6)} ml × {_rho(p)}"),
}
