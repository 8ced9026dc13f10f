"""The search against the plain product of all sets: the same best sets, ties included, and the same counts."""

from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.search import counts as counting
from calc.search import dominance, pareto
from calc.search.batteries import battery_of
from calc.search.sets import Battery, Family, Found, Label, Need, Option, Progress, added
from calc.subjects.power import endurance, span
from calc.subjects.power.endurance import Load, Pack
from calc.subjects.power.ohms import Ohms
from calc.subjects.power.plan import Plan, flights_per_cell

FEW = st.integers(0, 3)  # few different values: many ties
OPTION = st.builds(
    lambda mass, quiet, busy, volts, strong: Option(
        mass=mass * 10**8, mean_na=(quiet + busy) * 10**7, peak_na=(quiet + 3 * busy) * 10**7,
        quiet_na=quiet * 10**7, volts_uv=[0, 2_800_000, 3_300_000, 3_700_000][volts % 4], strong=strong,
    ),
    FEW, FEW, FEW, FEW, st.sampled_from([True, True, True, False]),
)  # fmt: skip
SLOT = st.lists(OPTION, min_size=0, max_size=5)
FAMILY = st.lists(SLOT, min_size=1, max_size=4).map(tuple)
SOURCE = st.builds(
    lambda mah, ohm: Pack(capacity_c=3.6 * mah, resistance_ohm=ohm, cutoff_v=3.3),
    st.sampled_from([10.0, 20.0, 20.0, 50.0]), st.sampled_from([0.2, 1.0, 4.0]),
)  # fmt: skip
NEED = st.sampled_from([Need(), Need(flights=1, on_s=600.0), Need(flights=3, on_s=240.0, pause_s=300.0)])
RESERVE, KELVIN = 0.2, 293.15


def cell_of(mass: int, pack: Pack, supply: endurance.Supply | None = None, reserve: float = RESERVE) -> Battery:
    """Return a cell of a known resistance as the search takes it."""
    return battery_of(mass, pack, Ohms(each=span.resistances(pack), how="given"), supply, KELVIN, reserve)


def works(label: Label, source: Pack, need: Need) -> tuple[str, int]:
    """Return reason and time of one set, by the run and the plan of the budget page themselves."""
    _, mean, peak, volts, quiet = label
    if mean == 0:
        return "no_draw", 0
    load = Load(mean_a=mean * 1e-9, peak_a=max(mean, peak) * 1e-9, min_volts=volts * 1e-6 or None)
    time_s = span.run_span(source, KELVIN, load, RESERVE).low.time_s
    if round(time_s * 1e9) == 0:
        return "brownout", 0
    plan = Plan(on_s=need.on_s, pause_s=need.pause_s, pause_share=min(1.0, quiet / mean))
    return "works" if flights_per_cell(time_s, plan) >= need.flights else "session", round(time_s * 1e9)


def plain(families: list[Family], sources: list[tuple[int, Pack]], need: Need) -> tuple[dict[Any, int], dict[str, int]]:
    """Return how many sets have each best (mass, time), and how many have each reason, from the plain product."""
    sets: dict[tuple[int, int], int] = {}
    reasons = dict.fromkeys((*counting.REASONS, "works"), 0)
    for family in families:
        for picks in product(*family):
            for mass, source in sources:
                label = added((mass, 0, 0, 0, 0), (0, 0, 0, 0, 0))
                for option in picks:
                    label = added(label, option.label)
                reason, time_ns = works(label, source, need)
                reason = reason if all(option.strong for option in picks) else "weak"
                reasons[reason] += 1
                if reason == "works":
                    sets[label[0], time_ns] = sets.get((label[0], time_ns), 0) + 1
    best = {
        (mass, time): number
        for (mass, time), number in sets.items()
        if not any(m <= mass and t >= time and (m < mass or t > time) for m, t in sets)
    }
    return best, reasons


def found_by(families: list[Family], batteries: list[Battery], need: Need) -> Found:
    """Return the end of a search."""
    *progress, found = pareto.search(families, batteries, need)
    assert isinstance(found, Found)
    done = [each.done for each in progress if isinstance(each, Progress)]
    assert done == sorted(done)
    assert all(0.0 <= each <= 1.0 for each in done)
    return found


@settings(max_examples=250, deadline=None)
@given(
    families=st.lists(FAMILY, min_size=1, max_size=2),
    sources=st.lists(st.tuples(FEW.map(lambda mass: mass * 10**8), SOURCE), min_size=0, max_size=4),
    need=NEED,
)
def test_the_same_as_the_plain_product(
    families: list[Family], sources: list[tuple[int, Pack]], need: Need
) -> None:  # fmt: skip
    batteries = [cell_of(mass, source) for mass, source in sources]
    found = found_by(families, batteries, need)
    best, reasons = plain(families, sources, need)
    assert {(each.mass, each.time_ns): each.count for each in found.best} == best
    assert found.counts.works == reasons.pop("works")
    assert found.counts.reasons == reasons
    assert found.counts.drawn == 0
    assert [each.mass for each in found.best] == sorted(each.mass for each in found.best)
    for each in found.best:
        assert each.tied[0] == (each.family, each.picks, each.battery)
        assert len(set(each.tied)) == len(each.tied) == min(each.count, pareto.MOST_TIED)
        for family, picks, battery in each.tied:
            label = (batteries[battery].mass, 0, 0, 0, 0)
            for slot, pick in zip(families[family], picks, strict=True):
                assert slot[pick].strong
                label = added(label, slot[pick].label)
            assert (label[0], works(label, sources[battery][1], need)[1]) == (each.mass, each.time_ns)


@given(
    mean=st.integers(1, 10**9), more=st.integers(0, 10**9), volts=st.integers(0, 5 * 10**6), source=SOURCE,
    reserve=st.sampled_from([0.0, 0.2, 0.5]),
)  # fmt: skip
def test_the_quick_sum_is_the_run_of_the_budget_page(
    mean: int, more: int, volts: int, source: Pack, reserve: float
) -> None:  # fmt: skip
    one = cell_of(0, source, reserve=reserve)
    load = Load(mean_a=mean * 1e-9, peak_a=(mean + more) * 1e-9, min_volts=volts * 1e-6)
    assert one.time(mean, mean + more, volts) == round(span.run_span(source, KELVIN, load, reserve).low.time_s * 1e9)
    assert one.most(mean) >= one.time(mean, mean + more, volts)


@given(
    mean=st.integers(10**6, 10**9), peak=st.integers(10**6, 10**9), source=SOURCE,
    volts=st.sampled_from([0, 3_000_000, 6_000_000]),
)  # fmt: skip
def test_through_a_converter_too(mean: int, peak: int, source: Pack, volts: int) -> None:
    supply = endurance.Supply(volts=5.0, efficiency=0.8, min_input_v=2.5)
    one = cell_of(0, source, supply)
    load = Load(mean_a=mean * 1e-9, peak_a=max(mean, peak) * 1e-9, min_volts=volts * 1e-6 or None, supply=supply)
    time_ns = one.time(mean, peak, volts)
    assert time_ns == round(span.run_span(source, KELVIN, load, RESERVE).low.time_s * 1e9)
    assert one.most(mean) >= time_ns


@settings(max_examples=200)
@given(labels=st.lists(st.tuples(FEW, FEW, FEW, FEW, st.sampled_from([0, 0, 1])), max_size=30), quiet=st.booleans())
def test_undominated_by_definition(labels: list[Label], quiet: bool) -> None:
    labels = labels if quiet else [(*label[:4], 0) for label in labels]

    def beats(y: Label, x: Label) -> bool:
        draws = y[1] > 0 or x[1] == 0
        return draws and all(a <= b for a, b in zip(y, x, strict=True)) and (y[0] < x[0] or y[1] < x[1])

    kept = dominance.undominated(labels)
    assert kept == sorted(kept)
    assert set(kept) == {x for x in labels if not any(beats(y, x) for y in labels)}


def test_too_many_to_count_are_estimated_and_said_so() -> None:
    """Half of the receivers need more than a full cell gives: about half of all sets brown out."""
    slot = tuple(
        Option(mass=n, mean_na=10**7 + n * 7919, peak_na=2 * 10**7 + n * n, volts_uv=5_000_000 * (n % 2))
        for n in range(200)
    )
    other = tuple(Option(mass=n, mean_na=n * 104_729, peak_na=n * 15_485_863) for n in range(200))
    one = cell_of(0, Pack(capacity_c=108.0, resistance_ohm=0.1, cutoff_v=3.3))
    counts = counting.count([(slot, other, other)], [one], Need())
    assert counts.drawn == counting.DRAWN
    assert counts.total == 200**3
    assert counts.reasons["brownout"] == pytest.approx(200**3 / 2, rel=0.06)
    assert counts.works + sum(counts.reasons.values()) == pytest.approx(counts.total, abs=4)


def test_many_states_from_few_options_are_estimated_too() -> None:
    slots = tuple(
        tuple(Option(mass=1, mean_na=n * 31**k + 1, peak_na=n * 31**k + 1) for n in range(30)) for k in range(4)
    )
    one = cell_of(0, Pack(capacity_c=108.0, resistance_ohm=0.1, cutoff_v=3.3))
    assert counting.count([slots], [one] * 30, Need()).drawn == counting.DRAWN
    wide = tuple(Option(mass=1, mean_na=n * 29_791 + 1, peak_na=n * 29_791 + 1) for n in range(200))
    assert counting.count([(slots[0], slots[1], wide)], [one], Need()).drawn == counting.DRAWN


def test_whole_flights_as_the_plan_counts_them() -> None:
    """24 min hold four flights of 6 min exactly, three with 2 min of pause at the full draw between them."""
    assert Need(flights=4, on_s=360.0).met(24 * 60 * 10**9, 10, 10)
    assert not Need(flights=5, on_s=360.0).met(24 * 60 * 10**9, 10, 10)
    assert Need(flights=3, on_s=360.0, pause_s=120.0).met(24 * 60 * 10**9, 10, 10)
    assert not Need(flights=4, on_s=360.0, pause_s=120.0).met(24 * 60 * 10**9, 10, 10)


def test_ties_multiply_and_add() -> None:
    """Two equal parts of each of two kinds in one slot: each way to the middle sum counts twice, four sets in all."""
    light, frugal = Option(mass=1, mean_na=2 * 10**7), Option(mass=2, mean_na=10**7)
    one = cell_of(0, Pack(capacity_c=108.0, resistance_ohm=0.1, cutoff_v=3.3))
    found = found_by([((light, light, frugal, frugal), (light, frugal))], [one], Need())
    assert [(best.mass, best.count) for best in found.best] == [(2, 2), (3, 4), (4, 2)]


@given(seed=st.integers(0, 10**6))
@settings(max_examples=30, deadline=None)
def test_draws_that_differ_by_a_nanoampere(seed: int) -> None:
    """The least difference that there is: the longer run is found, not a tie."""
    base = 10**7 + seed
    slot = tuple(Option(mass=5, mean_na=base + n, peak_na=base + 40 - n) for n in range(3))
    source = Pack(capacity_c=360.0, resistance_ohm=0.1, cutoff_v=3.3)
    one = cell_of(0, source)
    best, _ = plain([(slot, slot)], [(0, source)], Need())
    found = found_by([(slot, slot)], [one], Need())
    assert {(each.mass, each.time_ns): each.count for each in found.best} == best
    assert len(best) == 1


def test_a_part_that_rests_dearer_than_it_works_counts_at_its_mean_in_a_pause() -> None:
    """The same as the plan of the budget page, where the share of a pause is at most one."""
    need = Need(flights=3, on_s=360.0, pause_s=120.0)
    for time_ns in (1319 * 10**9, 1320 * 10**9):
        assert need.met(time_ns, 10, 20) == need.met(time_ns, 10, 10) == (time_ns == 1320 * 10**9)


def test_signs_of_progress(monkeypatch: pytest.MonkeyPatch) -> None:
    """Four parts, then eight: after every 20 sums a sign, so after two parts of the four; a tenth is for counting."""
    monkeypatch.setattr(pareto, "CHUNK", 20)
    slots = tuple(tuple(Option(mass=n, mean_na=(9 - n) * 10**7) for n in range(many)) for many in (8, 4))
    one = cell_of(0, Pack(capacity_c=108.0, resistance_ohm=0.1, cutoff_v=3.3))
    signs = [each.done for each in pareto.search([slots], [one], Need()) if isinstance(each, Progress)]
    assert signs == pytest.approx([0.0, 0.9 * 0.3, 0.9 * 0.45, 0.9])


@pytest.mark.parametrize(
    ("states", "checks", "batteries", "drawn"), [(27, 54, 2, 0), (26, 54, 2, 1), (27, 53, 2, 1), (27, 80, 3, 1)]
)
def test_when_reasons_are_estimated(
    monkeypatch: pytest.MonkeyPatch, states: int, checks: int, batteries: int, drawn: int
) -> None:  # fmt: skip
    """Three slots of three parts with sums of their own: 27 demands, times the batteries."""
    monkeypatch.setattr(counting, "MOST_STATES", states)
    monkeypatch.setattr(counting, "MOST_CHECKS", checks)
    slots = tuple(
        tuple(Option(mass=1, mean_na=10**6 + n * 3**k, peak_na=10**6 + n * 3**k) for n in range(3)) for k in range(3)
    )
    one = cell_of(0, Pack(capacity_c=108.0, resistance_ohm=0.1, cutoff_v=3.3))
    counts = counting.count([slots], [one] * batteries, Need())
    assert counts.drawn == drawn * counting.DRAWN
    assert counts.works == pytest.approx(27 * batteries, abs=1)


def test_a_staircase_loses_only_the_steps_that_are_beaten() -> None:
    """The third beats the first, not the second, which goes on beating the fourth."""
    labels = [(0, 2, 1, 0, 0), (0, 3, 0, 0, 0), (1, 1, 1, 0, 0), (2, 3, 0, 0, 0)]
    assert dominance.undominated(labels) == labels[:3]


@pytest.mark.parametrize(("many", "drawn"), [(16, 0), (17, counting.DRAWN)])
def test_a_slot_too_long_to_go_through_is_estimated(monkeypatch: pytest.MonkeyPatch, many: int, drawn: int) -> None:
    """Eight times as many sums as demands are looked at, though all these parts ask the same."""
    monkeypatch.setattr(counting, "MOST_STATES", 2)
    one = cell_of(0, Pack(capacity_c=108.0, resistance_ohm=0.1, cutoff_v=3.3))
    slot = tuple(Option(mass=1, mean_na=10**7, peak_na=10**7) for _ in range(many))
    assert counting.count([(slot,)], [one], Need()).drawn == drawn
