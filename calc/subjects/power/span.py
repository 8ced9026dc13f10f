"""The low and the high end of a run: what the cell's resistance and the cold leave open.

Two things end a run, and the first of them does: the circuit (reserve, cut-off, brown-out, with both resistances) and
the charge that the cell gives at this temperature and rate, less the reserve:

    s_end = max( s of the circuit,  1 − (1 − reserve) × share(T, rate) )

The low end takes the most resistance and the least share, the high end the other way round. The charge is the rated one
times what age has left: the share holds the cold, so `cell.capacity_share` is not taken on top of it.

Source: `endurance`, `sag`, `cold`. That the lesser of the two ends the run is our rule.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.errors import require
from calc.subjects.power import cell, cold, endurance, sag
from calc.subjects.power.endurance import Load, Pack, Run, Source
from calc.subjects.power.sag import Resistance


@dataclass(frozen=True, kw_only=True)
class Span:
    """A run at its unfavourable end, in the middle, and at its favourable end."""

    low: Run
    middle: Run
    high: Run


def resistances(pack: Pack) -> tuple[Resistance, Resistance, Resistance]:
    """Return the favourable, the middle and the unfavourable resistance of one cell: its own, measured at DC, or usual.

    One that was given, ≥ 0, is met by short peaks in full: nothing is said of its parts.
    """
    if pack.resistance_ohm is None:
        return sag.usual(pack.capacity_c)
    own = Resistance(at_once_ohm=require("resistance_ohm", pack.resistance_ohm, 0.0))
    return own, own, own


def run_span(
    pack: Pack, temperature_k: float, load: Load, reserve: float,
    ohms: Sequence[Resistance] | None = None, pull_s: float = sag.PULL_S,
) -> Span:  # fmt: skip
    """Return the run at a temperature [K] with its low and high end.

    `ohms`: resistance of one cell at 25 °C, favourable, middle, unfavourable; None: by `resistances`. `pull_s`: how
    long a peak lasts [s].

    Raises
    ------
    OutOfRangeError
        For arguments outside.

    Examples
    --------
    >>> pack = Pack(capacity_c=108.0, resistance_ohm=None, cutoff_v=3.3)
    >>> found = run_span(pack, 293.15, Load(mean_a=0.030, peak_a=0.060), 0.20)
    >>> [round(run.time_s / 60, 1) for run in (found.low, found.middle, found.high)]
    [46.1, 46.4, 46.8]
    """
    good, usual, bad = resistances(pack) if ohms is None else ohms
    least, _ = cold.share_band(temperature_k, _rate(pack, load, pack.cutoff_v))
    _, most = cold.share_band(temperature_k, _rate(pack, load, cell.OPEN_CIRCUIT[-1][1]))
    cases = ((bad, least), (usual, (least + most) / 2.0), (good, most))
    found = [_run(pack, temperature_k, load, reserve, ohm, share, pull_s) for ohm, share in cases]
    return Span(low=found[0], middle=found[1], high=found[2])


def _rate(pack: Pack, load: Load, volts: float) -> float:
    """Return the rate of the mean draw [1/h]; behind a converter that at a voltage of one cell."""
    charge_c = require("capacity_c", pack.capacity_c, 0.0, above=True) * require(
        "left", pack.left, 0.0, 1.0, above=True
    )
    current_a = load.mean_a if load.supply is None else load.supply.power(load.mean_a) / (pack.series * volts)
    return cold.rate_of(current_a, charge_c)


def _run(
    pack: Pack, temperature_k: float, load: Load, reserve: float, ohm: Resistance, share: float, pull_s: float
) -> Run:  # fmt: skip
    """Return the run with one resistance and one share."""
    ratio = pack.series * cell.resistance_ratio(temperature_k)
    settled = replace(
        endurance.today(replace(pack, resistance_ohm=ohm.settled_ohm), temperature_k),
        capacity_c=pack.capacity_c * pack.left,
    )
    spared_v = 0.0  # what a short peak sags less than a long one
    if load.supply is None:
        spared_v = (load.peak_a - load.mean_a) * (ohm.settled_ohm - ohm.after(pull_s)) * ratio
    needs_v = None if load.min_volts is None else load.min_volts - spared_v
    asked = replace(load, min_volts=needs_v) if load.supply is None else load
    found = endurance.run(settled, asked, reserve)
    return _bounded(settled, load, found, 1.0 - (1.0 - reserve) * share, reserve, spared_v)


def _bounded(source: Source, load: Load, found: Run, least_state: float, reserve: float, spared_v: float) -> Run:
    """Return a run that ends at `least_state` at the latest."""
    earlier = least_state > found.end_state
    state = max(least_state, found.end_state)
    lowest_v = load.volts_under(source, state, load.peak_a)
    return Run(
        time_s=endurance.run_time(source, load, 1.0, state),
        ends_by=("reserve" if reserve > 0.0 else "cutoff") if earlier else found.ends_by,
        end_state=state,
        lowest_v=None if lowest_v is None else lowest_v + spared_v,
    )
