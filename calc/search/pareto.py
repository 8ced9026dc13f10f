"""The search behind the finder: of all sets of one option from each slot and one battery, the best ones, exactly.

A set is *best* if no other working set beats it: none that is no heavier and runs no shorter, and is lighter or runs
longer. Sets that tie in both are all best; they are counted, and up to MOST_TIED of them are named.

Method: the undominated sets so far are merged with one slot after the other. A half-made set X is dropped for a
half-made Y only if Y asks no more of anything that the rest depends on (mass, mean, peak and quiet draw, needed
voltage) and is strictly lighter or draws strictly less in the mean: whatever completes X then completes Y to a set that
is strictly lighter, or runs strictly longer; save that a Y without any draw is no answer for an X with one, since a set
that draws nothing is no set. So nothing that could be best is lost, ties included. Run time never grows with any of the
four demands: a nanoampere more of mean draw shortens it by more than a nanosecond, up to some amperes; more peak or
needed voltage can only bring brown-out nearer (see `calc.subjects.power.endurance`).

Sources: our own reasoning; proved in the tests against the plain product of all sets.
"""

from bisect import bisect_right, insort
from collections.abc import Generator, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from calc.search.counts import count
from calc.search.dominance import undominated
from calc.search.sets import NOTHING, Battery, Best, Family, Found, Label, Need, Progress, Slot, Way, added

MOST_TIED = 100  # sets of one mass and run time that are named
CHUNK = 20_000  # merged sets between two signs of progress


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
    >>> from calc.search.sets import Option
    >>> def hours(capacity: int) -> Battery:
    ...     return Battery(mass=capacity, time=lambda i, *_: capacity * 3600 // i, most=lambda i: 3600 * capacity)
    >>> receiver = (Option(mass=3, mean_na=2), Option(mass=2, mean_na=3), Option(mass=4, mean_na=4))
    >>> *_, found = search([(receiver,)], [hours(6)], Need())
    >>> [(best.mass, best.time_ns, best.picks) for best in found.best], found.counts.total
    ([(8, 7200, (1,)), (9, 10800, (0,))], 3)
    """
    families = _as_needed(families, need)
    best = yield from best_of(families, batteries, need)
    yield Found(best=best, counts=count(families, batteries, need))


def best_of(
    families: Sequence[Family], batteries: Sequence[Battery], need: Need
) -> Generator[Progress, None, tuple[Best, ...]]:
    """Yield signs of progress, and return the best sets, lightest first. Parameters are those of `search`."""
    stairs, families = _Stairs(), _as_needed(families, need)
    for number, family in enumerate(families):
        for done in _search_family(number, family, batteries, need, stairs):
            yield Progress(done=0.9 * (number + done) / len(families))
    return stairs.best()


def _as_needed(families: Sequence[Family], need: Need) -> Sequence[Family]:
    """Return families without a quiet draw where that does not matter."""
    if need.pause_s != 0.0 or not any(option.quiet_na for family in families for slot in family for option in slot):
        return families
    return [tuple([replace(option, quiet_na=0) for option in slot] for slot in family) for family in families]


def _search_family(
    number: int, family: Family, batteries: Sequence[Battery], need: Need, stairs: "_Stairs"
) -> Iterator[float]:  # fmt: skip
    layers: list[Layer] = [{NOTHING: _Way(1, NOTHING, -1)}]
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
                options[option.label] = _Way(1, NOTHING, index)
            else:
                known.add(1, [(NOTHING, index)])
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
