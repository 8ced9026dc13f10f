"""Makes `room_oracle.toml`: 200 random sets of up to seven boxes, and whether each goes into its bay.

Not run by the tests, which read the table. It needs OR-Tools (pip install ortools==9.15.6755, or whichever there is):
    python tests/reference/room_oracle.py > tests/reference/room_oracle.toml

The model is that of the constraint solver CP-SAT: a start along each axis for every box, one of its turns, and for each
pair at least one axis along which one ends before the other starts. Cases that it does not decide in a minute are left
out and the next one is taken.
"""

from itertools import combinations, permutations
from random import Random

import ortools
from ortools.sat.python import cp_model

CASES = 200
MOST_S = 60.0


def answer(parts: list[list[tuple[int, int, int]]], bay: tuple[int, int, int]) -> str:
    """Return `fits`, `cannot` or `unknown` for the turns of each part, and a bay."""
    model = cp_model.CpModel()
    starts, sizes = [], []
    for turns in parts:
        chosen = [model.new_bool_var("") for _ in turns]
        model.add_exactly_one(chosen)
        sizes.append([sum(turn[axis] * each for turn, each in zip(turns, chosen, strict=True)) for axis in range(3)])
        starts.append([model.new_int_var(0, bay[axis], "") for axis in range(3)])
        for axis in range(3):
            model.add(starts[-1][axis] + sizes[-1][axis] <= bay[axis])
    for one, other in combinations(range(len(parts)), 2):
        ways = []
        for first, then in ((one, other), (other, one)):
            for axis in range(3):
                way = model.new_bool_var("")
                model.add(starts[first][axis] + sizes[first][axis] <= starts[then][axis]).only_enforce_if(way)
                ways.append(way)
        model.add_bool_or(ways)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = MOST_S
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    return {cp_model.OPTIMAL: "fits", cp_model.FEASIBLE: "fits", cp_model.INFEASIBLE: "cannot"}.get(status, "unknown")


def case(random: Random) -> tuple[list[tuple[int, int, int]], list[str], tuple[int, int, int]]:
    """Return edges of parts, how they may lie, and a bay that takes each alone and that they fill to 45 to 100 %."""
    count = random.randint(2, 7)
    parts = [(random.randint(4, 25), random.randint(3, 18), random.randint(2, 12)) for _ in range(count)]
    lies = [random.choice(["any", "any", "upright", "along", "as given"]) for _ in parts]
    while True:
        bay = (random.randint(8, 60), random.randint(5, 40), random.randint(3, 30))
        filled = sum(a * b * c for a, b, c in parts) / (bay[0] * bay[1] * bay[2])
        alone = all(
            any(all(a <= b for a, b in zip(turn, bay, strict=True)) for turn in turns(part, way))
            for part, way in zip(parts, lies, strict=True)
        )
        if alone and 0.45 <= filled <= 1.0:
            return parts, lies, bay


def turns(part: tuple[int, int, int], lies: str) -> list[tuple[int, int, int]]:
    """Return the extents that a part may have."""
    a, b, c = part
    ways = {"upright": [(a, b, c), (b, a, c)], "along": [(a, b, c), (a, c, b)], "as given": [(a, b, c)]}
    return sorted(set(ways.get(lies, permutations(part))))


def main() -> None:
    """Print the table."""
    random = Random(18)
    print(f'source = "constraint solver CP-SAT of OR-Tools {ortools.__version__}; see room_oracle.py"\n')
    found = 0
    while found < CASES:
        parts, lies, bay = case(random)
        said = answer([turns(*each) for each in zip(parts, lies, strict=True)], bay)
        if said != "unknown":
            found += 1
            print(f"[[case]]\nbay = {list(bay)}\nparts = {[list(each) for each in parts]}")
            print(f'lies = {lies}\nanswer = "{said}"'.replace("'", '"'), flush=True)


if __name__ == "__main__":
    main()
