"""What the cell took back after sessions: its gear's mean draw, and its own capacity.

Scope: a lithium cell that was full before and is filled by the same charger to the same end, at room temperature.

Symbols: Q charge put back [C]; η_C 0.99 share of it that had been given; t time on [s]; s state of charge; V at rest.

    mean draw   I = η_C Q / t                       for a run of n flights with the radio on between: n on, n − 1 pauses
    capacity    C = η_C Q / (s1 − s2),              u(C)/C = √((u_Q/Q)² + 2 u(s)²/(s1 − s2)²)
    state       s from V, u(s) = u(V) / (dV/ds)     flat between 0.3 and 0.5 of the charge: 10 mV are 3 % there

Sources: coulombic efficiency of lithium-ion cells above 0.99: Batteries 5 (2019) 57 (its abstract). A rest of half an
hour and more, 10 mV for what is left of it, meters of whole mAh, 3 % for a meter, 20 % for a planned draw and 10 % for
a rated capacity: common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from calc.errors import require
from calc.subjects.learn import Known, learned_share
from calc.subjects.power import cell

EFFICIENCY = 0.99
METER_C, METER_SHARE = 3.6 * 0.29, 0.03  # u of a charge put back: whole mAh, and the meter's own
REST_V = 0.010  # u of a voltage at rest
FULL_S = 0.03  # u of “full”
PLANNED, RATED = 0.20, 0.10  # u of a planned draw, of a rated capacity
LEAST_DRAW, MOST_CHARGE = 0.1, 1.25  # of the draw told, of the rated capacity; beyond, an entry is wrong: our rule
LEAST_SHARE = 0.25  # of the charge that a session must take to tell a capacity


@dataclass(frozen=True, kw_only=True)
class Session:
    """One session: its row, charge put back [C], time on as the draw counts [s], volts at rest before charging [V]."""

    row: int
    put_back_c: float
    on_s: float | None
    rest_v: float | None
    warm: bool = True  # a cold cell gives less, which is no worn one


@dataclass(frozen=True, kw_only=True)
class Learned:
    """Mean draw [A] and capacity [C] from sessions, u as shares; how many told either."""

    draw: Known | None
    draws: int
    capacity: Known | None
    capacities: int
    odd: tuple[int, ...] = ()  # rows that tell no draw since it would be next to none, or no capacity since too much


def mean_draw(put_back_c: float, on_s: float) -> float:
    """Return the mean draw [A] of a session, both > 0.

    Examples
    --------
    >>> round(mean_draw(18.4 * 3.6, 8 * 360.0) * 1e3, 2)
    22.77
    """
    given_c = EFFICIENCY * require("put_back_c", put_back_c, 0.0, above=True)
    return given_c / require("on_s", on_s, 0.0, above=True)


def charge_u(put_back_c: float) -> float:
    """Return the uncertainty of a charge put back, > 0, as a share of it.

    Examples
    --------
    >>> round(charge_u(18.4 * 3.6), 3)
    0.034
    """
    return sqrt((METER_C / require("put_back_c", put_back_c, 0.0, above=True)) ** 2 + METER_SHARE**2)


def state_at_rest(volts: float, spread_v: float = REST_V) -> Known:
    """Return the state of charge at a voltage at rest, 3 to 4.2 V, with its uncertainty; `spread_v` ≥ 0.

    Examples
    --------
    >>> found = state_at_rest(3.77, 0.020)
    >>> round(found.value, 2), round(found.u, 3)
    (0.43, 0.065)
    """
    table = cell.OPEN_CIRCUIT
    require("volts", volts, table[0][1], table[-1][1])
    steep = next((v1 - v0) / (s1 - s0) for (s0, v0), (s1, v1) in pairwise(table) if volts <= v1)
    return Known(value=cell.state_of_charge(volts), u=require("spread_v", spread_v, 0.0) / steep)


def capacity(put_back_c: float, charge_share: float, full: Known, rest: Known) -> Known:
    """Return the capacity [C] between two states of charge, u as a share; `charge_share` that of the charge > 0.

    Examples
    --------
    >>> found = capacity(18.2 * 3.6 / 0.99, 0.03, Known(value=1.0, u=0.03), Known(value=0.4, u=0.03))
    >>> round(found.value / 3.6, 2), round(found.u, 3)
    (30.33, 0.077)
    """
    between = require("full", full.value - rest.value, 0.0, 1.0, above=True)
    u = sqrt(charge_share**2 + (full.u**2 + rest.u**2) / between**2)
    return Known(value=EFFICIENCY * require("put_back_c", put_back_c, 0.0, above=True) / between, u=u)


def no_draw(session: Session, told_a: float) -> bool:
    """Return whether a session would have drawn next to nothing: a slip there must not make a run longer; told [A] ≥ 0.

    Examples
    --------
    >>> slip = Session(row=0, put_back_c=3.6, on_s=150_000.0, rest_v=None)
    >>> usual = Session(row=0, put_back_c=66.0, on_s=2880.0, rest_v=None)
    >>> no_draw(slip, 0.027), no_draw(usual, 0.027)
    (True, False)
    """
    return bool(session.on_s) and mean_draw(session.put_back_c, session.on_s or 1.0) < LEAST_DRAW * told_a


def learned(
    sessions: Sequence[Session], planned_a: float | None, rated_c: float, told_a: float = 0.0
) -> Learned:  # fmt: skip
    """Return what sessions say, with the planned draw, or None where it is no prior, and the rated capacity > 0.

    `told_a` is what is told of the draw, part of it or all: a session far below it does not count.
    """
    odd = [each.row for each in sessions if no_draw(each, told_a)]
    sessions = [each for each in sessions if each.row not in odd]
    draws = [Known(value=mean_draw(each.put_back_c, each.on_s), u=charge_u(each.put_back_c))
             for each in sessions if each.on_s]  # fmt: skip
    prior = None if planned_a is None else Known(value=planned_a, u=PLANNED)
    rests = [(each, state_at_rest(each.rest_v)) for each in sessions if each.rest_v is not None and each.warm]
    full = Known(value=1.0, u=FULL_S)
    odd += [each.row for each, _ in rests if each.put_back_c > MOST_CHARGE * rated_c]
    found = [capacity(each.put_back_c, charge_u(each.put_back_c), full, rest)
             for each, rest in rests if rest.value <= 1.0 - LEAST_SHARE and each.row not in odd]  # fmt: skip
    rated = Known(value=require("rated_c", rated_c, 0.0, above=True), u=RATED)
    return Learned(
        draw=learned_share(prior, draws) if draws else None,
        draws=len(draws),
        capacity=learned_share(rated, found) if found else None,
        capacities=len(found),
        odd=tuple(odd),
    )
