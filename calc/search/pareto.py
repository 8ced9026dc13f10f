"""The search behind the finder: of all sets of one option from each slot and one battery, the best ones, exactly.

A set is *best* if no other working set beats it: none that is no heavier and runs no shorter, and is lighter or runs
longer. Sets that tie in both are all best; they are counted, and up to MOST_TIED of them are named.

Everything is a whole number, so that sums are exact and do not depend on their order: mass in a unit of the caller's
choice, current in nanoamperes, voltage in microvolts, time in nanoseconds.

Method: the fronts are merged slot by slot. A half-made set X is dropped for a half-made Y only if Y asks no more of
anything that the rest depends on (mass, mean, peak and quiet draw, needed voltage) and is strictly lighter or draws
strictly less in the mean: whatever completes X then completes Y to a set that is strictly lighter, or runs strictly
longer; save that a Y without any draw is no answer for an X with one, since a set that draws nothing is no set. So
nothing that could be best is lost, ties included. Run time never grows with any of the four demands: a nanoampere more
of mean draw shortens it by more than a nanosecond, up to some amperes; more peak or needed voltage can only bring
brown-out nearer (see `calc.subjects.power.endurance`).

Sources: our own reasoning; proved in the tests against the plain product of all sets.
"""

import random
from bisect import bisect_right, insort
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, islice, product
from math import floor

from calc.subjects.power.plan import WHOLE

REASONS = ("weak", "no_draw", "brownout", "session")
MOST_STATES = 20_000  # different demands of all sets, up to which reasons are counted exactly …
MOST_CHECKS = 400_000  # … and demands times batteries
DRAWN = 4_000  # sets drawn at random where there are more
MOST_TIED = 100  # sets of one mass and run time that are named
CHUNK = 20_000  # merged sets between two signs of progress
SEED = 1  # the same sets are drawn each time

Label = tuple[int, int, int, int, int]  # mass, mean, peak, volts, quiet


@dataclass(frozen=True, kw_only=True, slots=True)
class Option:
    """What may stand in a slot: its sums for the whole row, and whether it is strong enough for the surface."""

    mass: int
    mean_na: int = 0
    peak_na: int = 0
    volts_uv: int = 0
    quiet_na: int = 0
    strong: bool = True

    @property
    def label(self) -> Label:
        """The demands in the order of a label."""
        return (self.mass, self.mean_na, self.peak_na, self.volts_uv, self.quiet_na)


@dataclass(frozen=True, kw_only=True)
class Battery:
    """A source of power: its mass, and the run time [ns] for mean and peak draw [nA] and needed voltage [µV].

    `time` gives 0 where the source cannot run such gear, and never grows with any argument; `most` is a quick bound on
    it from above, for a mean draw alone.
    """

    mass: int
    time: Callable[[int, int, int], int]
    most: Callable[[int], int]


@dataclass(frozen=True, kw_only=True)
class Need:
    """What one charge must do: so many flights of `on_s`, the radio left on through pauses of `pause_s` (else 0)."""

    flights: int = 0  # 0: any run will do
    on_s: float = 1.0
    pause_s: float = 0.0

    def met(self, time_ns: int, mean_na: int, quiet_na: int) -> bool:
        """Return whether a run is long enough; the same sum as `calc.subjects.power.plan.flights_per_cell`."""
        if self.flights == 0:
            return time_ns > 0
        pause_s = self.pause_s * min(1.0, quiet_na / mean_na)
        return floor((time_ns * 1e-9 + pause_s) / (self.on_s + pause_s) + WHOLE) >= self.flights


Slot = Sequence[Option]
Family = tuple[Slot, ...]  # one option of each slot makes a set; families differ in their slots


@dataclass(frozen=True, kw_only=True)
class Best:
    """A best mass with its run time [ns]: how many sets have both; one of them, and up to MOST_TIED with it."""

    mass: int
    time_ns: int
    count: int
    family: int
    picks: tuple[int, ...]  # the option of each slot
    battery: int
    tied: "tuple[Way, ...]"


Way = tuple[int, tuple[int, ...], int]  # family, the option of each slot, battery


@dataclass(frozen=True, kw_only=True)
class Counts:
    """How many sets there are, how many work, and the first reason (one of REASONS) of each that does not.

    `drawn` is 0 where all were counted; else the counts are estimates from so many sets drawn at random.
    """

    total: int
    works: int
    reasons: dict[str, int]
    drawn: int


@dataclass(frozen=True, kw_only=True)
class Progress:
    """How far a search has come, 0 to 1."""

    done: float


@dataclass(frozen=True, kw_only=True)
class Found:
    """The outcome of a search: the best sets, lightest first, and the counts."""

    best: tuple[Best, ...]
    counts: Counts


@dataclass(slots=True)
class _Way:
    """How a label came about: from which labels before it, by which options; and how many sets have it."""

    count: int
    before: Label
    option: int
    more: list[tuple[Label, int]] | None = None  # further ways to the same label

    def came(self) -> Iterator[tuple[Label, int]]:
        """Yield each way there that is named."""
        yield self.before, self.option
        yield from self.more or ()

    def add(self, count: int, ways: Iterable[tuple[Label, int]]) -> None:
        """Count further ways, and name them as long as there are few."""
        self.count += count
        kept = self.more or []
        kept += islice(ways, max(0, MOST_TIED - 1 - len(kept)))
        self.more = kept


Layer = dict[Label, _Way]
_NOTHING: Label = (0, 0, 0, 0, 0)


def added(label: Label, option: Label) -> Label:
    """Return the demands of both together: sums, and the higher of the two voltages."""
    return (
        label[0] + option[0], label[1] + option[1], label[2] + option[2], max(label[3], option[3]),
        label[4] + option[4],
    )  # fmt: skip


def search(families: Sequence[Family], batteries: Sequence[Battery], need: Need) -> Iterator[Progress | Found]:
    """Yield signs of progress, and at the end what was found.

    Parameters
    ----------
    families : sequence of Family
        Each a tuple of slots; a slot without options gives no set.
    batteries : sequence of Battery
        What can feed a set.
    need : Need
        What one charge must do.

    Examples
    --------
    >>> def hours(capacity: int) -> Battery:
    ...     return Battery(mass=capacity, time=lambda i, *_: capacity * 3600 // i, most=lambda i: 3600 * capacity)
    >>> receiver = (Option(mass=3, mean_na=2), Option(mass=2, mean_na=3), Option(mass=4, mean_na=4))
    >>> *_, found = search([(receiver,)], [hours(6)], Need())
    >>> [(best.mass, best.time_ns, best.picks) for best in found.best], found.counts.total
    ([(8, 7200, (1,)), (9, 10800, (0,))], 3)
    """
    if need.pause_s == 0.0:  # then the quiet draw does not matter
        families = [tuple([replace(option, quiet_na=0) for option in slot] for slot in family) for family in families]
    stairs = _Stairs()
    for number, family in enumerate(families):
        for done in _search_family(number, family, batteries, need, stairs):
            yield Progress(done=0.9 * (number + done) / len(families))
    yield Found(best=stairs.best(), counts=count(families, batteries, need))


def _search_family(
    number: int, family: Family, batteries: Sequence[Battery], need: Need, stairs: "_Stairs"
) -> Iterator[float]:  # fmt: skip
    layers: list[Layer] = [{_NOTHING: _Way(1, _NOTHING, -1)}]
    order = sorted(range(len(family)), key=lambda index: len(family[index]))
    for step, slot in enumerate(order):
        for done in _merge(layers, family[slot]):
            yield 0.6 * (step + done) / len(family)
    labels = sorted(layers[-1])
    for index, battery in enumerate(batteries):
        _feed(labels, layers, battery, need, stairs, (number, order, index))
        yield 0.6 + 0.4 * (index + 1) / len(batteries)


def _merge(layers: list[Layer], slot: Slot) -> Iterator[float]:
    """Add a layer: each label so far with each option, without those that cannot become best."""
    options: Layer = {}
    for index, option in enumerate(slot):
        if option.strong:
            known = options.get(option.label)
            if known is None:
                options[option.label] = _Way(1, _NOTHING, index)
            else:
                known.add(1, [(_NOTHING, index)])
    kept = {label: options[label] for label in undominated(options)}
    merged: Layer = {}
    for turn, (before, way) in enumerate(layers[-1].items()):
        for label, option_way in kept.items():
            both = added(before, label)
            found, number = merged.get(both), way.count * option_way.count
            if found is None:
                merged[both] = found = _Way(number, before, option_way.option)
                if option_way.more:
                    found.add(0, [(before, option) for _, option in option_way.more])
            else:
                found.add(number, [(before, option) for _, option in option_way.came()])
        if turn % max(1, CHUNK // (len(kept) or 1)) == 0:
            yield turn / len(layers[-1])
    layers.append({label: merged[label] for label in undominated(merged)})


def undominated(labels: Sequence[Label] | Layer) -> list[Label]:
    """Return the labels that no other one beats: none asks as little of everything and is lighter or draws less.

    One without a mean draw beats only others without.

    Examples
    --------
    >>> undominated([(1, 2, 0, 0, 0), (1, 2, 5, 0, 0), (1, 3, 0, 0, 0), (2, 1, 9, 9, 9)])
    [(1, 2, 0, 0, 0), (1, 2, 5, 0, 0), (2, 1, 9, 9, 9)]
    """
    ordered = sorted(labels)
    if any(label[4] for label in ordered):
        return _by_pairs(ordered)
    resting = _by_pairs([label for label in ordered if label[1] == 0])
    return sorted(resting + _by_sweep([label for label in ordered if label[1] > 0]))


def _by_pairs(ordered: Sequence[Label]) -> list[Label]:
    """Return what is left of sorted labels when each is held against those kept before it."""
    kept: list[Label] = []
    ahead: list[Label] = []  # those kept, the one that beat last in front: it is likely to beat again
    for label in ordered:
        mass, mean, peak, volts, quiet = label
        for place, other in enumerate(ahead):
            asks_no_more = other[1] <= mean and other[2] <= peak and other[3] <= volts and other[4] <= quiet
            if asks_no_more and (other[1] < mean or other[0] < mass) and (other[1] > 0 or mean == 0):
                if place:
                    ahead.insert(0, ahead.pop(place))
                break
        else:
            kept.append(label)
            ahead.append(label)
    return kept


def _by_sweep(ordered: Sequence[Label]) -> list[Label]:
    """Return the same for labels that all draw, none of them quietly: sorted, one pass, in n log² n.

    Whatever comes before a label with another mass or mean is lighter or draws less, so only those of the very same
    mass and mean must not beat it: they are put in after all of them were held against what came before.
    """
    before = _Stages(sorted({label[3] for label in ordered}))
    kept: list[Label] = []
    for _, alike in groupby(ordered, key=lambda label: label[:2]):
        fresh = [label for label in alike if not before.covers(label)]
        for label in fresh:
            before.add(label)
        kept += fresh
    return kept


class _Stages:
    """Which (mean, peak) were seen, for each voltage and below; a binary indexed tree over the voltages.

    Each node is a staircase: means rise, peaks fall.
    """

    def __init__(self, volts: Sequence[int]) -> None:
        self._place = {each: number for number, each in enumerate(volts, 1)}
        self._stairs: list[tuple[list[int], list[int]]] = [([], []) for _ in range(len(volts) + 1)]

    def covers(self, label: Label) -> bool:
        """Return whether a label was seen that asks no more mean draw, peak draw and voltage."""
        _, mean, peak, volts, _ = label
        number = self._place[volts]
        while number:
            means, peaks = self._stairs[number]
            place = bisect_right(means, mean)
            if place and peaks[place - 1] <= peak:
                return True
            number -= number & -number
        return False

    def add(self, label: Label) -> None:
        """Take a label in."""
        _, mean, peak, volts, _ = label
        number = self._place[volts]
        while number < len(self._stairs):
            means, peaks = self._stairs[number]
            start = bisect_right(means, mean)
            if not start or peaks[start - 1] > peak:
                start -= 1 if start and means[start - 1] == mean else 0
                end = start
                while end < len(peaks) and peaks[end] >= peak:
                    end += 1
                means[start:end], peaks[start:end] = [mean], [peak]
            number += number & -number


def _feed(
    labels: Sequence[Label], layers: list[Layer], battery: Battery, need: Need, stairs: "_Stairs",
    place: tuple[int, list[int], int],
) -> None:  # fmt: skip
    """Offer every label with a battery to the stairs; a quick bound spares most of them the sum."""
    time, most, last = battery.time, battery.most, layers[-1]
    for label in labels:
        mass, mean, peak, volts, quiet = label
        total = mass + battery.mass
        if mean == 0 or most(mean) < stairs.to_beat(total):
            continue
        time_ns = time(mean, peak, volts)
        if time_ns > 0 and need.met(time_ns, mean, quiet):
            stairs.offer(total, time_ns, last[label].count, (*place, layers, label))


_Origin = tuple[int, list[int], int, list[Layer], Label]


class _Stairs:
    """The best sets so far: masses rise, and with each the time."""

    def __init__(self) -> None:
        self._masses: list[int] = []
        self._steps: dict[int, tuple[int, int, list[_Origin]]] = {}  # mass -> time, count, where from

    def to_beat(self, mass: int) -> int:
        """Return the longest time of a set no heavier; less than that is of no use."""
        place = bisect_right(self._masses, mass)
        return self._steps[self._masses[place - 1]][0] if place else 0

    def offer(self, mass: int, time_ns: int, count: int, origin: _Origin) -> None:
        """Take a set in if it is best so far, and put out those that it beats."""
        best = self.to_beat(mass)
        here = self._steps.get(mass)
        if here is not None and here[0] == time_ns:
            self._steps[mass] = (time_ns, here[1] + count, [*here[2], origin][:MOST_TIED])
            return
        if time_ns <= best:
            return
        for heavier in self._masses[bisect_right(self._masses, mass - 1) :]:
            if self._steps[heavier][0] > time_ns:
                break
            self._masses.remove(heavier)
            del self._steps[heavier]
        insort(self._masses, mass)
        self._steps[mass] = (time_ns, count, [origin])

    def best(self) -> tuple[Best, ...]:
        """Return the best sets, lightest first."""
        return tuple(_best(mass, *self._steps[mass]) for mass in self._masses)


def _best(mass: int, time_ns: int, count: int, origins: Sequence[_Origin]) -> Best:
    tied = tuple(islice((way for origin in origins for way in _named(origin)), MOST_TIED))
    family, picks, battery = tied[0]
    return Best(mass=mass, time_ns=time_ns, count=count, family=family, picks=picks, battery=battery, tied=tied)


def _named(origin: _Origin) -> Iterator[Way]:
    """Yield each way to a label that is named: family, the option of each slot, battery."""
    family, order, battery, layers, label = origin
    for options in _back(layers, len(order), label):
        by_slot = dict(zip(order, options, strict=True))
        yield family, tuple(by_slot[slot] for slot in range(len(order))), battery


def _back(layers: Sequence[Layer], depth: int, label: Label) -> Iterator[tuple[int, ...]]:
    """Yield the options that lead to a label, one of each slot so far."""
    if depth == 0:
        yield ()
        return
    for before, option in layers[depth][label].came():
        for earlier in _back(layers, depth - 1, before):
            yield (*earlier, option)


def count(families: Sequence[Family], batteries: Sequence[Battery], need: Need) -> Counts:
    """Return how many sets work, and the first reason of each that does not; an estimate where there are too many."""
    totals = [_product(family) * len(batteries) for family in families]
    reasons, works, drawn = dict.fromkeys(REASONS, 0), 0, 0
    for family, total in zip(families, totals, strict=True):
        strong = tuple(tuple(option for option in slot if option.strong) for slot in family)
        left = _product(strong) * len(batteries)
        reasons["weak"] += total - left
        states = _states(strong, len(batteries)) if left else {}
        if states is None:
            drawn += DRAWN
            found = _draw(strong, batteries, need, left)
        else:
            found = _tally(states, batteries, need)
        works += found.pop("works", 0)
        for reason, number in found.items():
            reasons[reason] += number
    return Counts(total=sum(totals), works=works, reasons=reasons, drawn=drawn)


def _product(family: Family) -> int:
    result = 1
    for slot in family:
        result *= len(slot)
    return result


def _states(family: Family, batteries: int) -> dict[Label, int] | None:
    """Return how many sets there are of each demand, masses left out; None if there are too many to look at."""
    states: dict[Label, int] = {_NOTHING: 1}
    for slot in family:
        if len(states) * len(slot) > 8 * MOST_STATES:
            return None
        merged: dict[Label, int] = {}
        for before, number in states.items():
            for option in slot:
                both = added(before, (0, *option.label[1:]))
                merged[both] = merged.get(both, 0) + number
        states = merged
        if len(states) > MOST_STATES or len(states) * batteries > MOST_CHECKS:
            return None
    return states


def _tally(states: dict[Label, int], batteries: Sequence[Battery], need: Need) -> dict[str, int]:
    found: dict[str, int] = {}
    for battery, (label, number) in product(batteries, states.items()):
        reason = verdict(label, battery, need)
        found[reason] = found.get(reason, 0) + number
    return found


def verdict(label: Label, battery: Battery, need: Need) -> str:
    """Return `works`, or the first reason why a set of strong enough parts does not."""
    _, mean, peak, volts, quiet = label
    if mean == 0:
        return "no_draw"
    time_ns = battery.time(mean, peak, volts)
    if time_ns <= 0:
        return "brownout"
    return "works" if need.met(time_ns, mean, quiet) else "session"


def _draw(family: Family, batteries: Sequence[Battery], need: Need, left: int) -> dict[str, int]:
    """Return estimated counts from sets drawn at random."""
    chance = random.Random(SEED)
    found: dict[str, int] = {}
    for _ in range(DRAWN):
        label = _NOTHING
        for slot in family:
            label = added(label, chance.choice(slot).label)
        reason = verdict(label, chance.choice(batteries), need)
        found[reason] = found.get(reason, 0) + 1
    return {reason: round(left * number / DRAWN) for reason, number in found.items()}
