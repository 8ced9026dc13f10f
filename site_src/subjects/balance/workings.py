"""How the numbers of the subject balance come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.balance.answer import BalanceBlock
from site_src.app.sums import Working, added, length_in, mass_in, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the balance."""
    block = found.balance
    if block is None:
        return

    yield _moments(budget, block, without_rubber=False)
    if block.cg_without_rubber_m != block.cg_m:
        yield _moments(budget, block, without_rubber=True)
    if block.target_m is None or block.off_m is None:
        return
    at, wanted, whole = length_in(block.cg_m, budget), length_in(block.target_m, budget), mass_in(block.mass_kg, budget)
    yield working(
        "off", "balance-off", "off the wanted point", "x − t", f"{at} − {wanted}", length_in(block.off_m, budget)
    )
    if block.ballast is not None:
        lead_at = length_in(block.ballast.station_m, budget)
        yield working("lead", "balance-lead", f"lead at the {block.ballast.end}", "M (t − x) / (b − t)",
                       f"{whole} × ({wanted} − {at}) / ({lead_at} − {wanted})",
                       mass_in(block.ballast.mass_kg, budget))  # fmt: skip
    masses = {part.path: part.mass_kg for part in block.placed}
    for move in block.moves:
        yield working(f"move.{move.path}", "balance-move", f"{move.name}, to", "x of the part + M (t − x) / m",
                       f"{length_in(move.from_m, budget)} + {whole} × ({wanted} − {at}) / "
                       f"{mass_in(masses[move.path], budget)}", length_in(move.to_m, budget))  # fmt: skip


def _moments(budget: Budget, block: BalanceBlock, *, without_rubber: bool) -> Working:
    """Return where it balances, as the mean of the stations."""
    parts = [part for part in block.placed if not (without_rubber and part.path == "model.rubber")]
    whole_kg = sum(part.mass_kg for part in parts)
    terms = (f"{mass_in(part.mass_kg, budget)} × {length_in(part.station_m, budget)}" for part in parts)
    at_m = block.cg_without_rubber_m if without_rubber else block.cg_m
    what = "balances without rubber at" if without_rubber else "balances at"
    return working("cg_without_rubber" if without_rubber else "cg", "balance-cg", what, "Σ m x / Σ m",
                    f"({added(terms, 'each mass times its station')}) / {mass_in(whole_kg, budget)}",
                    length_in(at_m, budget))  # fmt: skip
