"""The low and the high end of a run: what the cell's resistance and the cold leave open.

Two things end a run, and the first of them does: the circuit (reserve, cut-off, brown-out, with both resistances) and
the charge that the cell gives at this temperature and rate, less the reserve:

    s_end = max( s of the circuit,  1 − (1 − reserve) × share(T, rate) )

The low end takes the most resistance and the least share, the high end the other way round. The charge is the rated one
times what age has left; the share holds the cold.

Source: `endurance`, `sag`, `cold`. That the lesser of the two ends the run is our rule.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.errors import require
from calc.subjects.power import cell, cold, endurance, sag
from calc.subjects.power.endurance import Load, Pack, Run, Source
from calc.subjects.power.sag import Resistance
from calc.vocabulary import RunEnd


@dataclass(frozen=True, kw_only=True)
class End:
    """One end of what a cell may give today.

    `source` has the resistance that a lasting draw meets, `pull_ohm` is what a short pull meets on top of it [ohm];
    `share` of the charge at 20 °C, drawn slowly, 0 to 1.
    """

    source: Source
    pull_ohm: float
    share: float

    def spared_v(self, load: Load) -> float:
        """Return what a short peak sags less than a lasting one [V]; through a converter nothing is taken off."""
        if load.supply is not None:
            return 0.0
        return (load.peak_a - load.mean_a) * (self.source.resistance_ohm - self.pull_ohm)

    def state(self, reserve: float) -> float:
        """Return the state of charge at which this much charge is given, less a reserve from 0 to 1."""
        return 1.0 - (1.0 - require("reserve", reserve, 0.0, 1.0)) * self.share

    def volts_under_peak(self, load: Load, state: float) -> float | None:
        """Return the voltage with everything at work at once for a moment [V]; None where the cell collapses."""
        volts = load.volts_under(self.source, state, load.peak_a)
        return None if volts is None else volts + self.spared_v(load)


@dataclass(frozen=True, kw_only=True)
class Ends:
    """What a cell may give today: the unfavourable end, the middle, the favourable end; `rate` of the draw [1/h]."""

    low: End
    middle: End
    high: End
    rate: float

    @property
    def known(self) -> bool:
        """Whether anything is known of a draw so fast."""
        return self.rate <= cold.RATES[-1]


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


def ends(
    pack: Pack, temperature_k: float, load: Load, ohms: Sequence[Resistance] | None = None, pull_s: float = sag.PULL_S
) -> Ends:  # fmt: skip
    """Return what the cells may give at a temperature [K].

    `ohms`: resistance of one cell at 25 °C, favourable, middle, unfavourable; None: by `resistances`. `pull_s`: how
    long a peak lasts [s].
    """
    good, usual, bad = resistances(pack) if ohms is None else ohms
    fast = rate(pack, load, pack.cutoff_v)
    least, _ = cold.share_band(temperature_k, fast)
    _, most = cold.share_band(temperature_k, rate(pack, load, cell.OPEN_CIRCUIT[-1][1]))
    cases = ((bad, least), (usual, (least + most) / 2.0), (good, most))
    low, middle, high = (_end(pack, temperature_k, ohm, share, pull_s) for ohm, share in cases)
    return Ends(low=low, middle=middle, high=high, rate=fast)


def rate(pack: Pack, load: Load, volts: float) -> float:
    """Return the rate of the mean draw [1/h]; behind a converter that at a voltage of one cell > 0."""
    charge_c = require("capacity_c", pack.capacity_c, 0.0, above=True) * require(
        "left", pack.left, 0.0, 1.0, above=True
    )
    current_a = load.mean_a if load.supply is None else load.supply.power(load.mean_a) / (pack.series * volts)
    return cold.rate_of(current_a, charge_c)


def _end(pack: Pack, temperature_k: float, ohm: Resistance, share: float, pull_s: float) -> End:
    source = endurance.today(replace(pack, resistance_ohm=ohm.settled_ohm), temperature_k)
    spared_ohm = pack.series * (ohm.settled_ohm - ohm.after(pull_s)) * cell.resistance_ratio(temperature_k)
    return End(source=source, pull_ohm=source.resistance_ohm - spared_ohm, share=share)


def run_span(
    pack: Pack, temperature_k: float, load: Load, reserve: float,
    ohms: Sequence[Resistance] | None = None, pull_s: float = sag.PULL_S,
) -> Span:  # fmt: skip
    """Return the run at a temperature [K] with its low and high end; see `ends`.

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
    found = ends(pack, temperature_k, load, ohms, pull_s)
    low, middle, high = (run(each, load, reserve) for each in (found.low, found.middle, found.high))
    return Span(low=low, middle=middle, high=high)


def run(end: End, load: Load, reserve: float) -> Run:
    """Return the run at one end of what a cell may give; the reserve from 0 to 1."""
    spared_v = end.spared_v(load)
    needs_v = None if load.min_volts is None else load.min_volts - spared_v
    asked = replace(load, min_volts=needs_v) if load.supply is None else load
    found = endurance.run(end.source, asked, reserve)
    given = end.state(reserve)
    state = max(given, found.end_state)
    bounds: RunEnd = "reserve" if reserve > 0.0 else "cutoff"
    return Run(
        time_s=endurance.run_time(end.source, load, 1.0, state),
        ends_by=bounds if given > found.end_state else found.ends_by,
        end_state=state,
        lowest_v=end.volts_under_peak(load, state),
    )
