"""How the numbers of the subject flights come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.flights.answer import FlightsBlock
from site_src.app.sums import Working, num, working


def workings(_: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the flights."""
    block = found.of(FlightsBlock)
    if block is None or block.factor is None or block.sink_m_s is None:
        return
    factor, before = block.factor.value, block.prior.value
    yield working("glide_factor", "flights-joined", "sink with the flights", "sink before × Φ before / Φ",
                   f"{num(block.sink_m_s * factor / before, 6)} m/s × {num(before, 6)} / {num(factor, 6)}",
                   f"{num(block.sink_m_s)} m/s")  # fmt: skip
