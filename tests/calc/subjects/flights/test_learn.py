"""Prior and flights joined, against figures by hand and a published meta-analysis."""

from math import log, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects import learn
from calc.subjects.air.sums import sink_speed
from calc.subjects.learn import Known
from tests.support import reference

TABLE = reference("flights")
FIGURE = st.builds(Known, value=st.floats(0.1, 10.0), u=st.floats(0.01, 0.5))


def known(rows: list[list[float]]) -> list[Known]:
    return [Known(value=value, u=u) for value, u in rows]


@pytest.mark.parametrize("name", ["one_flight", "three_flights", "no_prior", "scattered"])
def test_flights_and_prior(name: str) -> None:
    """UP-1 to UP-4."""
    row = TABLE["learn"][name]
    prior = Known(value=row["prior"][0], u=row["prior"][1]) if "prior" in row else None
    flights = known(row["flights"])
    found = learn.learned(prior, flights)
    assert [found.value, found.u] == pytest.approx(row["found"], abs=6e-6)
    assert learn.scatter(flights) ** 2 == pytest.approx(row["tau2"], abs=6e-7)


def test_a_published_meta_analysis() -> None:
    """UP-5: thirteen trials of a vaccine, as log risk ratios."""
    table = TABLE["trials"]
    figures = []
    for treated, healthy, untreated, well in table["rows"]:
        ratio = log(treated / (treated + healthy)) - log(untreated / (untreated + well))
        square = 1 / treated - 1 / (treated + healthy) + 1 / untreated - 1 / (untreated + well)
        figures.append(Known(value=ratio, u=sqrt(square)))
    found = learn.learned(None, figures)
    assert learn.scatter(figures) ** 2 == pytest.approx(table["tau2"], abs=6e-5)
    assert [found.value, found.u] == pytest.approx([table["mean"], table["u"]], abs=6e-5)


def test_reduced_to_another_air() -> None:
    """UP-6: 0.50 m/s at 1.164 kg/m3 is 0.48739 m/s at 1.225, by the same glide factor."""
    factor = sink_speed(0.05, 0.08, 1.164, 1.0) / 0.50
    assert sink_speed(0.05, 0.08, 1.225, factor) == pytest.approx(0.48739, abs=6e-6)


def test_a_flight_far_off_is_shown_and_counts() -> None:
    flights = [Known(value=each, u=0.05) for each in (8.0, 8.3, 7.9, 15.0)]
    assert learn.outliers(flights, 0.1) == (3,)
    assert learn.learned_share(None, flights).value > 8.5
    assert learn.outliers(flights[:2]) == ()
    assert learn.outliers(flights[:3], 0.1) == ()


@given(FIGURE, st.lists(FIGURE, min_size=1, max_size=6))
def test_more_flights_never_widen_a_prior(prior: Known, flights: list[Known]) -> None:
    """And what is learned lies between the least and the most of them."""
    found = learn.learned_share(prior, flights, 0.1)
    values = [prior.value, *(each.value for each in flights)]
    assert found.u <= prior.u + 1e-12
    assert min(values) - 1e-9 <= found.value <= max(values) + 1e-9


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        learn.joined([])
    with pytest.raises(OutOfRangeError):
        learn.joined([Known(value=1.0, u=0.0)])
    with pytest.raises(OutOfRangeError):
        learn.learned_share(None, [Known(value=0.0, u=0.1)])
