"""The list of a budget's blocks, and what a part of the box holds of them.

The one module of `calc.document` that knows the rooms of the subjects, and of each its `entries` alone, which in turn
know nothing but `calc.document.fields` and the tables of their room (a test asks for that).
"""

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from calc.document.entries import KINDS, Cell, GearRow, Model
from calc.document.fields import (
    Belongs,
    ChoiceField,
    Entry,
    Field,
    Scalar,
    choice,
    described,
    entry,
    key_of,
    quantity,
    text,
    whole,
)
from calc.document.given import require_entries
from calc.document.paths import place
from calc.errors import BudgetError
from calc.subjects.air.entries import Air
from calc.subjects.airframe.entries import AirframePart, Building
from calc.subjects.balance.entries import Balance
from calc.subjects.field.entries import FlyingField
from calc.subjects.flights.entries import Flight
from calc.subjects.limits.entries import Rule
from calc.subjects.linkage.entries import Linkage
from calc.subjects.motor.entries import Motor
from calc.subjects.power.entries import Charge, Session, Supply, Wiring
from calc.subjects.reach.entries import Radio
from calc.subjects.room.entries import MOST_BAYS, Bay
from calc.subjects.surface.entries import Surface
from calc.vocabulary import PartKind

FORMAT = 1
MOST_ROWS = 60
Plain = Mapping[str, Scalar]  # a block as plain values, by the keys of the document


def same_as(block: type, name: str) -> Any:
    """Return a dataclass field that is the entry of another block."""
    return entry(described(block)[name])


def _block(label: str, kind: type, default: object = None) -> Any:
    return dataclasses.field(default=default, metadata={"label": label, "block": kind})


def _rows(label: str, kind: type, called: str, most: int = MOST_ROWS) -> Any:
    """Return a list of up to `most` rows; `called` says how one is called, with its number in the place of {}."""
    return dataclasses.field(default=(), metadata={"label": label, "rows": kind, "called": called, "most": most})


@dataclass(frozen=True, kw_only=True)
class Budget:
    """The document. Blocks that were not given are None; `unread` holds the paths of entries that made no sense."""

    format: Entry[int] = whole("Format", FORMAT, FORMAT, default=FORMAT)
    name: Entry[str] = text("Name of this budget")
    units: Entry[str] = choice(
        "Units", {"metric": "grams, millimetres", "imperial": "ounces, inches"}, default="metric"
    )
    scale_division: Entry[float] = quantity("Scale division", "mass", 0.0, 0.1, default=0.0001)  # kg
    model: Model = _block("Model", Model, Model())
    rule: Rule | None = _block("Rule", Rule)
    gear: tuple[GearRow, ...] = _rows("Gear", GearRow, "Gear row {}")
    cell: Cell | None = _block("Cell", Cell)
    session: Session | None = _block("Session", Session)
    supply: Supply | None = _block("Converter", Supply)
    wiring: Wiring | None = _block("Leads", Wiring)
    balance: Balance | None = _block("Balance", Balance)
    surface: Surface | None = _block("Surface", Surface)
    linkage: Linkage | None = _block("Linkage", Linkage)
    air: Air | None = _block("Air", Air)
    motor: Motor | None = _block("Rubber motor", Motor)
    airframe: tuple[AirframePart, ...] = _rows("Airframe", AirframePart, "Airframe part {}")
    building: Building | None = _block("Building", Building)
    bays: tuple[Bay, ...] = _rows("Bays", Bay, "Bay {}", MOST_BAYS)
    field: FlyingField | None = _block("Wind and field", FlyingField)
    radio: Radio | None = _block("Radio", Radio)
    flights: tuple[Flight, ...] = _rows("Flights", Flight, "Flight {}")
    charges: tuple[Charge, ...] = _rows("Charges", Charge, "Charge {}")
    unread: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        """Refuse a block or an entry of a wrong type where it is given."""
        require_entries(self, Budget, "")
        for key, kind in BLOCKS.items():
            block = getattr(self, key)
            if block is not None or key == "model":
                require_entries(block, kind, key)
        for key, kind in LISTS.items():
            rows = getattr(self, key)
            if not isinstance(rows, tuple):
                raise TypeError(f"{key}: a tuple of {kind.__name__} expected, not {type(rows).__name__}; see Budget.of")
            for index, row in enumerate(rows):
                require_entries(row, kind, f"{key}.{index}")

    @classmethod
    def of(cls, **parts: "Scalar | Plain | Sequence[Plain]") -> "Budget":
        """Return the budget of plain values: each key of the document with its text or number, block or list of rows.

        As strict as the command: every mass of a switched-on part must be there.

        Raises
        ------
        BudgetError
            With every problem at once, each with the path of its field; the error's notes have a sentence for each.

        Examples
        --------
        >>> budget = Budget.of(model={"airframe": "34 g"}, gear=[{"kind": "servo", "mass": "2 g"}])
        >>> budget.gear[0].mass.value
        0.002
        >>> try:
        ...     Budget.of(gear=[{"kind": "servo", "mass": "2 mm"}])
        ... except BudgetError as error:
        ...     print(*error.__notes__)
        Gear row 1, mass of one: “2 mm” is a length; this field needs a mass: for example 1.2 g or 0.04 oz.
        """
        from calc.document.budget import sound  # which reads into this class

        try:
            return sound(parts)
        except BudgetError as error:
            from calc import wording  # it reads budgets itself

            for found in error.problems:
                error.add_note(wording.problem(found))
            raise

    def part(self, path: str) -> GearRow | Cell | None:
        """Return the row of gear or the cell that a path leads to or into; None where there is none.

        Examples
        --------
        >>> Budget(cell=Cell()).part("cell.mass") == Cell(), Budget().part("gear.0.mass")
        (True, None)
        """
        at = place(path)
        if at.block == "gear" and at.row is not None:
            return self.gear[at.row] if at.row < len(self.gear) else None
        return self.cell if at.block == "cell" else None


def _listed(key: str) -> dict[str, Any]:
    return {each.name: each.metadata[key] for each in dataclasses.fields(Budget) if key in each.metadata}


BLOCKS: dict[str, type] = _listed("block")
LISTS: dict[str, type] = _listed("rows")  # what a row of each list is
ROW_NAMES: dict[str, str] = _listed("called")
MOST: dict[str, int] = _listed("most")  # rows of each list
BLOCK_LABELS: dict[str, str] = _listed("label")

BOX_KINDS = ("receiver", "servo", "coil actuator", "cell", *KINDS[3:], "balsa sheet")


@dataclass(frozen=True, kw_only=True)
class BoxPart(GearRow):
    """A part in the visitor's box: a row of gear without its place, what an actuator, a cell or a converter can do."""

    HOLDS: ClassVar[tuple[Belongs, ...]] = ("part",)
    kind: Entry[PartKind] = choice("Kind", BOX_KINDS, default="other", belongs="part")
    # m; longer than any gear, since a sheet of balsa is
    length: Entry[float] | None = quantity("Length", "length", 0.0, 1.5, above=True, belongs="part")
    torque: Entry[float] | None = same_as(Surface, "torque")
    thrust: Entry[float] | None = same_as(Surface, "thrust")
    capacity: Entry[float] | None = same_as(Cell, "capacity")
    resistance: Entry[float] | None = same_as(Cell, "resistance")
    meter: Entry[float] | None = same_as(Cell, "meter")
    light_draw: Entry[float] | None = same_as(Cell, "light_draw")
    light_volts: Entry[float] | None = same_as(Cell, "light_volts")
    heavy_draw: Entry[float] | None = same_as(Cell, "heavy_draw")
    heavy_volts: Entry[float] | None = same_as(Cell, "heavy_volts")
    cutoff: Entry[float] = same_as(Cell, "cutoff")
    series: Entry[int] = same_as(Cell, "series")
    volts: Entry[float] | None = same_as(Supply, "volts")
    efficiency: Entry[float] = same_as(Supply, "efficiency")
    min_input: Entry[float] | None = same_as(Supply, "min_input")


@dataclass(frozen=True, kw_only=True)
class GearPart(BoxPart):
    """A part with its place in a model: what a budget's gear is as CSV."""

    HOLDS: ClassVar[tuple[Belongs, ...]] = ("part", "place")


def places() -> Iterator[tuple[str, type]]:
    """Yield every block with its path, "" for the document itself; that of a list stands for each of its rows."""
    yield "", Budget
    yield from BLOCKS.items()
    yield from LISTS.items()


def labels_of(path: str, kind: type) -> dict[str, str]:
    """Return the labels of a block's entries by path."""
    return {f"{path}.{key_of(name)}".lstrip("."): each.label for name, each in described(kind).items()}


def labels() -> dict[str, str]:
    """Return the label of each block and each entry by path; the entries of a part of the box as `box.…`."""
    found = dict(BLOCK_LABELS)
    for path, kind in places():
        found |= labels_of(path, kind)
    return found | {f"box.{name}": each.box_label for name, each in described(GearPart).items()}


def field_at(path: str) -> Field | None:
    """Return the field that a path leads to, None where there is none.

    Examples
    --------
    >>> field_at("gear.3.count").label, field_at("gear.count").label, field_at("gear.3.colour")
    ('Count', 'Count', None)
    """
    at = place(path)
    block, key = (at.block, at.key) if at.key else ("", at.block)
    kind = dict(places()).get(block)
    fields = {} if kind is None else described(kind)
    return fields.get(key) or fields.get(f"{key}_")


def word(path: str, typed: str) -> str:
    """Return an entry of a choice in words, anything else as it was typed; `path` names the field.

    Examples
    --------
    >>> word("model.class", "p30"), word("surface.kind", "hinged"), word("model.airframe", "40 g")
    ('30 in rubber (USA, Sweden)', 'a hinged flap', '40 g')
    """
    field = field_at(path)
    return field.word(typed) if isinstance(field, ChoiceField) else typed
