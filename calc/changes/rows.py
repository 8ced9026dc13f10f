"""What can be done with a row as it is: leave it out if it is not needed to steer, or weigh it.

Sources: which kinds a model flies without is common practice, no source.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from calc.changes.change import Change, Proposal
from calc.changes.standing import WEIGHT
from calc.changes.trials import Trials, typed, with_entries
from calc.document.entries import GearRow
from calc.document.fields import Entry
from calc.subjects.airframe.answer import AirframeBlock

OPTIONAL = ("altimeter", "tracker", "other", "mount")  # those that are missed least first
Tried = tuple[Mapping[str, Any], Proposal]


def leaving_out(trials: Trials) -> Iterator[Tried]:
    """Yield the rows that could stay at home, by kind; left out, they stay in the document."""
    rows = [row for row in trials.now.rows if row.kind in OPTIONAL and trials.sound(row.path)]
    for row in sorted(rows, key=lambda each: (OPTIONAL.index(each.kind), int(each.path[5:]))):
        part = trials.row(row.path)
        assert isinstance(part, GearRow)
        what = Proposal(
            code="leave_out",
            path=row.path,
            name=part.called,
            before=typed(part.mass if part.weighed is None else part.weighed, trials.system.label("mass")),
            after="",
            measure=row.mass.expected_kg / max(trials.now.gear.expected_kg, 1e-6),
            facts={"lighter_kg": row.mass.expected_kg, "kind": row.kind, "count": part.count.value},
        )
        yield with_entries(trials.document, row.path, {"off": True}), what


def weighing(trials: Trials) -> Change | None:
    """Return the weighing that could settle it, None where none could.

    Its answer is the one if the part weighs what was planned. It is no change of the budget: what the scale will say
    nobody knows, so it never counts as making it fit.
    """
    found, chance = trials.now, trials.now.chance
    others = any(level for name, level in trials.stands.levels.items() if name != WEIGHT)
    if chance is None or chance.settle is None or others or found.by_weight == "over" or found.lead_open:
        return None
    path = chance.settle.path
    block, key = ("model", "airframe_weighed") if path == "model.airframe" else (path, "weighed")
    entry = _planned(trials, path)
    assert entry is not None  # what is not weighed counts as planned
    changed = with_entries(trials.document, block, {key: entry.typed})
    answer = trials.answer(changed)
    if answer is None:
        return None
    what = Proposal(
        code="weigh",
        path=path,
        name=chance.settle.name,
        before=typed(entry, trials.system.label("mass")),
        after="",
        measure=0.0,
        facts={"settles": chance.settle.settles, "fits_as_planned": answer.whole.verdict == "fits"},
        presses=False,
    )
    return Change(what=what, edits=(), document=trials.document, before=trials.now, assessment=answer, fits=False)


def _planned(trials: Trials, path: str) -> Entry[float] | None:
    if path != "model.airframe":
        return trials.row(path).mass
    block = trials.now.of(AirframeBlock)
    if trials.budget.model.airframe is not None or block is None:
        return trials.budget.model.airframe
    return Entry(value=block.planned_kg, typed=f"{1000.0 * block.planned_kg:.3f} g")
