"""What is said of the flights."""

from collections.abc import Sequence

from calc import digits
from calc.english import listed
from calc.subjects.flights.answer import Circled, FlightsBlock
from calc.unit_system import UnitSystem

LIFT = "Lift is sought and sink is avoided, so that flights make a model look a little better than it is."


def sentence(block: FlightsBlock, system: UnitSystem) -> str:
    """Return what the flights teach, from how many of them, and what stands out."""
    said = [_factor(block, system)]
    if block.per_turn is not None and block.turns is not None:
        number = system.number(100.0 * block.per_turn.value, "height")
        between = " to ".join(str(each) for each in dict.fromkeys(block.turns))
        said.append(
            f"It climbs about {digits.figures(number)} {system.label('height')} for 100 turns ({between} wound)."
        )
    if block.efficiency is not None:
        share, wide = block.efficiency.value, 2.0 * block.efficiency.u * block.efficiency.value
        said.append(f"{digits.whole_percent(share)} ± {digits.whole_percent(wide)} of the energy become height.")
    if block.beyond:
        one = len(block.beyond) == 1
        said.append(f"{_rows(block.beyond)} {'glides' if one else 'glide'} better than such a model can, and "
                    f"{'does' if one else 'do'} not count: minutes in the place of seconds?")  # fmt: skip
    if block.outliers:
        one = len(block.outliers) == 1
        said.append(
            f"{_rows(block.outliers)} {'stands' if one else 'stand'} far off the others, and "
            f"{'counts' if one else 'count'} all the same: rising air? Strike out what you know the reason of."
        )
    if block.struck:
        said.append(f"{block.struck} struck out.")
    return " ".join([*said, *([LIFT] if block.counted else [])])


def _rows(rows: tuple[int, ...]) -> str:
    """Return rows as they begin a sentence."""
    names = listed([f"flight {row + 1}" for row in rows])
    return f"{names[:1].upper()}{names[1:]}"


def _factor(block: FlightsBlock, system: UnitSystem) -> str:
    if block.factor is None or block.sink_m_s is None:
        return "No flight shows a sink yet: a height with the time of the glide, or a log, would."
    count = len(block.counted)
    flights = "1 flight" if count == 1 else f"{count} flights"
    before = block.sink_m_s * block.factor.value / block.prior.value
    now = digits.given(block.factor.value, 2)
    wide = digits.figures(2.0 * block.factor.u * block.factor.value, 1)
    circled = f" {_circled(block.circled, system)}" if block.circled else ""
    return (
        f"From {flights} the glide factor is {now} ± {wide} instead of {digits.given(block.prior.value, 2)}: it sinks "
        f"{system.speed(block.sink_m_s)} instead of {system.speed(before)}.{circled}"
    )


def _circled(circled: Sequence[Circled], system: UnitSystem) -> str:
    """Return how wide the flights circled, and what of their sink is from it."""
    radii, more = sorted(each.radius_m for each in circled), sorted(each.more - 1.0 for each in circled)
    told = dict.fromkeys(system.rounded(each, "height") for each in (radii[0], radii[-1]))
    shares = dict.fromkeys(digits.whole_percent(each) for each in (more[0], more[-1]))
    return (
        f"{_rows(tuple(each.row for each in circled))} circled, {' to '.join(told)} in radius: that is "
        f"{' to '.join(shares)} more sink than straight ahead. Circling is part of the factor."
    )


def brief(block: FlightsBlock, system: UnitSystem) -> str:
    """Return in one line what the flights teach."""
    if block.sink_m_s is None:
        return "no flight shows a sink yet"
    count = len(block.counted)
    return f"sinks {system.speed(block.sink_m_s)}, from {count} flight{'' if count == 1 else 's'}"
