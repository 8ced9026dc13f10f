"""What the templates are given: the form's entries as typed, notes beside them, and the answer.

Built from any document, sound or not: whatever was typed is shown again, as text.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from calc import english, headline, units, wording
from calc.assess import Assessment, assess
from calc.document import choices, classes
from calc.document.budget import BLOCKS, MOST_ROWS, Budget, Reading, is_bare_number, read
from calc.document.fields import ChoiceField, Entry, QuantityField, TextField, described
from calc.document.letters import plain
from calc.document.parts import GearRow
from calc.notices import called
from calc.subjects.air import words as air_words
from calc.subjects.balance import words as balance_words
from calc.subjects.growth import words as growth_words
from calc.subjects.limits import words as limit_words
from calc.subjects.linkage import words as linkage_words
from calc.subjects.power import words as power_words
from calc.subjects.power.draws import USUAL
from calc.subjects.surface import words as surface_words
from calc.subjects.weights import words as weight_words
from calc.unit_system import UnitSystem
from calc.vocabulary import WholeVerdict
from site_src.app.sums import Working
from site_src.app.why import workings
from site_src.subjects.air import drawing as air_drawing
from site_src.subjects.balance import drawing as balance_drawing
from site_src.subjects.limits import drawing as limit_drawing
from site_src.subjects.power import drawing as power_drawing


@dataclass(frozen=True, kw_only=True)
class Control:
    """One field of the form: its path and id, its label, what was typed, and what is said beside it."""

    path: str
    id: str
    label: str
    typed: str
    checked: bool
    choices: tuple[tuple[str, str], ...]  # (value, word)
    placeholder: str
    unit: str  # the unit a bare number takes
    bare: bool  # a number was typed without its unit
    most: int  # longest text
    note: str
    problem: str


@dataclass(frozen=True, kw_only=True)
class View:
    """Everything a page needs to show one document."""

    source: Mapping[str, Any]  # the document as it came
    system: UnitSystem
    name: str
    rows: int
    full: bool  # no row can be added
    answer: "Answer"
    problems: Mapping[str, str]
    notes: Mapping[str, str]
    bare: tuple[str, ...]  # paths of the numbers typed without their unit

    @cached_property
    def controls(self) -> Mapping[str, Control]:
        """Return every field of the form; made when a form is shown, since an answer to an edit needs none."""
        return _controls(self.source, self.system, self.problems, self.notes)


@dataclass(frozen=True, kw_only=True)
class Answer:
    """The assessment with its sentences and figures."""

    assessment: Assessment
    system: UnitSystem
    name: str
    headline: str
    headline_first: str  # the verdict in it, and the rest
    headline_rest: str
    short_headline: str
    settled: (
        WholeVerdict | Literal["part"] | None
    )  # the verdict, None while something is not counted that could change it
    class_sentence: str
    growth_sentence: str
    power_sentence: str
    plan_sentence: str
    sensitivities: tuple[str, ...]
    balance_sentence: str
    side_view: balance_drawing.SideView | None
    surface_sentence: str
    throw_sentence: str
    linkage_sentence: str
    air_sentence: str
    time_graph: air_drawing.TimeGraph | None
    missing: Mapping[str, tuple[tuple[str, str], ...]]  # block -> (name, id) of each field it waits for
    uncounted: tuple[str, ...]
    draws: tuple[tuple[str, str, str], ...]  # (path, name, usual draw) of each row whose draw nobody has told
    chance_words: str
    strip: limit_drawing.Strip
    curve: power_drawing.Curve | None
    notices: tuple[str, ...]
    workings: Mapping[str, tuple[Working, ...]]  # of the parts that show theirs


SHAPE_WORDS = {
    "rod": "round rod", "tube": "tube", "strip": "strip or sheet", "wire": "copper wire", "thread": "thread",
    "film": "film", "cloth": "cloth, tissue or paper", "filler": "filler or adhesive",
}  # fmt: skip


def view(document: object, why: Iterable[str] = ()) -> View:
    """Return the view of a document of any shape; `why` names the parts of the answer that show their workings."""
    source = document if isinstance(document, Mapping) else {}
    reading = read(document)
    quantities = tuple(_quantities(reading.budget))
    return View(
        source=source,
        system=UnitSystem.of(reading.budget),
        name=plain(shown_text(source.get("name"))),
        rows=min(len(_rows(source)), MOST_ROWS),
        full=len(_rows(source)) >= MOST_ROWS,
        answer=answer(reading.budget, why),
        problems=_problems(reading),
        notes=_notes(reading.budget, quantities),
        bare=tuple(path for path, _, entry in quantities if is_bare_number(entry.typed)),
    )


def answer(budget: Budget, why: Iterable[str] = ()) -> Answer:
    """Return the answer for a budget, with the workings of some of its parts."""
    found, system = assess(budget), UnitSystem.of(budget)
    power, balance, air = found.power, found.balance, found.air
    said = headline.headline_parts(found, system)
    numbers = {row.path: index + 1 for index, row in enumerate(found.rows)}
    return Answer(
        assessment=found,
        system=system,
        name=budget.name.value,
        headline=" ".join(said).strip(),
        headline_first=said[0],
        headline_rest=said[1],
        short_headline=headline.short_headline(found, system),
        settled=_settled(found),
        class_sentence=limit_words.class_sentence(found, system),
        growth_sentence="" if found.growth is None else growth_words.growth_sentence(found.growth, system),
        power_sentence="" if power is None else power_words.power_sentence(power, weight_words.names_of(found)),
        plan_sentence="" if power is None else power_words.plan_sentence(power),
        sensitivities=()
        if power is None or power.run.time_s <= 0.0 or power.at_most
        else tuple(power_words.sensitivity_sentence(effect, system) for effect in power.sensitivities),
        balance_sentence="" if balance is None else balance_words.balance_sentence(balance, system),
        side_view=None if balance is None else balance_drawing.side_view(balance, numbers, system),
        surface_sentence="" if found.surface is None else surface_words.surface_sentence(found.surface, system),
        throw_sentence="" if found.surface is None else surface_words.throw_sentence(found.surface, system),
        linkage_sentence="" if found.linkage is None else linkage_words.linkage_sentence(found.linkage, system),
        air_sentence="" if air is None else air_words.air_sentence(air, system),
        time_graph=None if air is None else air_drawing.time_graph(air, system),
        missing={
            block: tuple((wording.field_name(path), path.replace(".", "-")) for path in paths)
            for block, paths in found.missing.items()
        },
        uncounted=tuple(_uncounted_name(path, budget) for path in found.uncounted),
        draws=tuple(_usual_draws(found.missing.get("power", ()), budget)),
        chance_words=_chance(found),
        strip=limit_drawing.strip(found, system),
        curve=None if power is None else power_drawing.curve(power),
        notices=tuple(wording.notice(notice, system) for notice in found.notices),
        workings={part: workings(part, budget, found) for part in why},
    )


def _settled(found: Assessment) -> WholeVerdict | Literal["part"] | None:
    """Return the verdict of the whole installation; `part` where it fits as far as was asked, None while it is open."""
    whole = found.whole
    if whole.open and whole.verdict not in ("over", "fails"):
        return None
    return "part" if whole.verdict == "fits" and whole.that_are("not asked") else whole.verdict


def _usual_draws(untold: Iterable[str], budget: Budget) -> Iterator[tuple[str, str, str]]:
    """Yield what may stand in for a draw that nobody has told: the usual one of the kind, as a guess."""
    asked = [each for each in untold if each.endswith("draw") and each != "gear.draw" and each not in budget.unread]
    for path in dict.fromkeys(".".join(each.split(".")[:2]) for each in asked):
        row = budget.gear[int(path.split(".")[1])]
        usual = USUAL.get(row.kind.value)
        if usual is not None:
            told = f"{usual.draw}, at work {usual.busy_draw} for {usual.busy}" if usual.busy_draw else usual.draw
            yield path, english.row_name(row.kind.value, row.name.value), told


def _chance(found: Assessment) -> str:
    """Return what the dots of the strip tell, in words."""
    if found.chance is None:
        return ""
    lead = ", the lead for balance not counted" if found.lead_open else ""
    if found.chance.all in (0.0, 1.0):
        return f"{'within' if found.chance.all else 'beyond'} the limits in every case you gave{lead}"
    return f"{headline.chance_words(found.chance.all)} that it is within all limits{lead}"


def _uncounted_name(path: str, budget: Budget) -> str:
    return wording.LABELS["gear"] if path == "gear" else called(budget, path)


def _problems(reading: Reading) -> dict[str, str]:
    """Return a sentence for each field; the first problem of a field is the one told."""
    found: dict[str, str] = {}
    for problem in reading.problems:
        found.setdefault(problem.field, wording.sentence(problem.code, problem.facts))
    return found


def _rows(source: Mapping[str, Any]) -> list[Any]:
    rows = source.get("gear")
    return rows if isinstance(rows, list) else []


def _controls(
    source: Mapping[str, Any], system: UnitSystem, problems: Mapping[str, str], notes: Mapping[str, str]
) -> dict[str, Control]:  # fmt: skip
    places: list[tuple[str, type, object]] = [("", Budget, source)]
    places += [(key, kind, source.get(key)) for key, kind in BLOCKS.items()]
    places += [(f"gear.{index}", GearRow, row) for index, row in enumerate(_rows(source)[:MOST_ROWS])]
    found = {}
    for path, kind, block in places:
        for name, field in described(kind).items():
            key = name.rstrip("_")
            where = f"{path}.{key}" if path else key
            raw = block.get(key) if isinstance(block, Mapping) else None
            found[where] = control(where, field, raw, system, problems.get(where, ""), notes.get(where, ""))
    return found


def control(path: str, field: Any, raw: object, system: UnitSystem, problem: str, note: str) -> Control:
    """Return one field of the form."""
    quantity = isinstance(field, QuantityField)
    parts = path.split(".")
    label = wording.LABELS[f"gear.{parts[2]}" if parts[0] == "gear" and len(parts) == 3 else path]
    return Control(
        path=path,
        id=path.replace(".", "-"),
        label=label,
        typed=shown_text(raw),
        checked=raw is True,
        choices=_choices(path, field),
        placeholder=_placeholder(field, system),
        unit=system.label(field.dimension) if quantity else "",
        bare=quantity and is_bare_number(raw),
        most=field.most if isinstance(field, TextField) else units.LONGEST_TEXT,
        note=note,
        problem=problem,
    )


def _choices(path: str, field: Any) -> tuple[tuple[str, str], ...]:
    if not isinstance(field, ChoiceField):
        return ()
    if path == "stock.shape":
        return tuple((word, SHAPE_WORDS[word]) for word in field.choices)
    if path == "model.class":
        return tuple((rule.id, rule.name) for rule in classes.table().values())
    return tuple((word, choices.WORDS.get(word, word)) for word in field.choices)


def _placeholder(field: Any, system: UnitSystem) -> str:
    """Return what stands in for an empty field, as text: its default."""
    entry: Entry[Any] | None = field.default_entry()
    if entry is None or entry.value == "":
        return ""
    if isinstance(field, QuantityField):
        label, number = system.label(field.dimension), system.number(entry.value, field.dimension)
        return f"{number:.2g} {label}" if 0 < number < 0.01 else f"{number:.4g} {label}"
    return str(entry.value)


def shown_text(raw: object) -> str:
    """Return a typed value as the text of its field; a group or a list has no text."""
    if raw is None or isinstance(raw, bool) or not isinstance(raw, str | int | float):
        return ""
    return str(raw)


def _quantities(budget: Budget) -> Iterator[tuple[str, str, Entry[float]]]:
    """Yield path, dimension and entry of every quantity that was typed and read."""
    places: list[tuple[str, object]] = [("", budget)] + [(key, getattr(budget, key)) for key in BLOCKS]
    places += [(f"gear.{index}", row) for index, row in enumerate(budget.gear)]
    for path, block in places:
        for name, field in described(type(block)).items() if block is not None else ():
            entry = getattr(block, name)
            if isinstance(field, QuantityField) and entry is not None and entry.typed is not None:
                yield f"{path}.{name}" if path else name, field.dimension, entry


def _notes(budget: Budget, quantities: Iterable[tuple[str, str, Entry[float]]]) -> dict[str, str]:
    """Return what is said beside sound fields: what a text in another unit was read as; the class's figures."""
    system = UnitSystem.of(budget)
    found = {
        path: _read_as(entry, dimension, system)
        for path, dimension, entry in quantities
        if isinstance(entry.typed, str)
    }
    found["model.class"] = _class_note(budget)
    return {path: note for path, note in found.items() if note}


def _read_as(entry: Entry[float], dimension: str, system: UnitSystem) -> str:
    label = system.label(dimension)
    if units.parse(str(entry.typed), dimension, system).unit == label and ":" not in str(entry.typed):
        return ""
    return f"= {system.given(entry.value, dimension, 4)}"


def _class_note(budget: Budget) -> str:
    """Return a class's figures in a few words."""
    if "model.class" in budget.unread:
        return ""
    rule, system = classes.table()[budget.model.class_.value], UnitSystem.of(budget)
    parts = [f"at least {system.round_mass(rule.minimum_kg)} {rule.counts}"] if rule.minimum_kg else []
    parts += [f"at most {system.round_mass(rule.maximum_kg)}"] if rule.maximum_kg else []
    parts += [f"rubber up to {system.round_mass(rule.rubber_most_kg)}"] if rule.rubber_most_kg else []
    parts += [rule.sizes] if rule.sizes else []
    parts += [rule.as_of] if parts else []
    return f"{'; '.join(parts)}. Check your current rule book." if parts else ""
