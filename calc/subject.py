"""What a subject is, and how it reads a budget.

A subject is one room in `calc/subjects` and one of the same name in `site_src/subjects`; each layer (the answer, its
JSON, the text, the page) loops over the one list of them, `calc.subjects.listed.SUBJECTS`. It reads its entries through
`Needs`, which notes those that are absent or could not be read. An answer that cannot be worked out is None, beside the
paths of the fields it waits for. A subject may use the answers of others, by asking for them; it never imports their
insides.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar

from calc.document.budget import Budget
from calc.document.fields import Entry
from calc.english import listed, wrapped
from calc.unit_system import UnitSystem
from calc.wording import label_of, lowered

if TYPE_CHECKING:
    from calc.assess import Assessment

T = TypeVar("T")
Missing = Mapping[str, tuple[str, ...]]  # the fields that something waits for, by its name


@dataclass(frozen=True, kw_only=True)
class Answered:
    """What a subject worked out (None where it could not), and the fields that it or a part of it waits for."""

    answer: object | None
    missing: Missing


class Answers:
    """The answers for one budget, each worked out when it is first asked for: subjects may ask for each other's."""

    def __init__(self, budget: Budget, subjects: "tuple[Subject, ...]") -> None:
        self.budget = budget
        self._subjects = {subject.kind: subject for subject in subjects}
        self._found: dict[type, Answered | None] = {}

    def of(self, kind: type[T]) -> T | None:
        """Return the answer of a kind; None where it cannot be worked out. KeyError for a kind that no subject has."""
        found = self.answered(kind).answer
        assert found is None or isinstance(found, kind)
        return found

    def must(self, kind: type[T]) -> T:
        """Return the answer of a kind that there always is."""
        found = self.of(kind)
        assert found is not None
        return found

    def answered(self, kind: type) -> Answered:
        """Return the answer of a kind with what it waits for."""
        if kind not in self._found:
            self._found[kind] = None
            self._found[kind] = self._subjects[kind].answer(self.budget, self)
        found = self._found[kind]
        assert found is not None, f"{kind.__name__} needs its own answer"
        return found


@dataclass(frozen=True, kw_only=True)
class Subject:
    """One subject: its name, the kind of its answer, and what each layer takes from it."""

    name: str
    title: str  # what it is called on the page
    kind: type
    answer: Callable[[Budget, Answers], Answered]
    brief: "Callable[[Assessment, UnitSystem], str]"  # its answer in one line, without a full stop
    data: "Callable[[Assessment], Mapping[str, Any]]"  # keys of the JSON with their values, known or None
    text: "Callable[[Assessment, UnitSystem], Iterable[Iterable[str]]]"  # paragraphs of lines
    # its answer in sentences; "" while there is none, or where a room words it in parts of its own
    sentence: "Callable[[Assessment, UnitSystem], str]" = lambda _found, _system: ""


def told_in_a_sentence(
    *,
    name: str,
    title: str,
    kind: type[T],
    answer: Callable[[Budget, Answers], Answered],
    data: Callable[[T], Mapping[str, Any]],
    sentence: Callable[[T, UnitSystem], str],
    brief: Callable[[T, UnitSystem], str],
) -> Subject:
    """Return a subject whose JSON is one key, its name, and whose text is one paragraph, where it has an answer."""

    def block_data(found: "Assessment") -> Mapping[str, Any]:
        block = found.of(kind)
        return {name: None if block is None else data(block)}

    def text(found: "Assessment", system: UnitSystem) -> Iterable[Iterable[str]]:
        block = found.of(kind)
        if block is not None:
            yield wrapped(sentence(block, system))

    def said(found: "Assessment", system: UnitSystem) -> str:
        block = found.of(kind)
        return "" if block is None else sentence(block, system)

    def told(found: "Assessment", system: UnitSystem) -> str:
        block = found.of(kind)
        return not_yet(found, name, getattr(found.budget, name, True)) if block is None else brief(block, system)

    return Subject(
        name=name, title=title, kind=kind, answer=answer, brief=told, data=block_data, text=text, sentence=said
    )


MOST_NAMED = 2  # fields that a subject waits for, named in its line


def not_yet(found: "Assessment", name: str, asked: object = True) -> str:
    """Return the line of a subject without an answer: what it waits for, once anything (`asked`) was entered for it."""
    paths = found.missing.get(name, ())
    if not asked or not paths:
        return "not asked yet"
    named = [lowered(label_of(path)) for path in paths[:MOST_NAMED]]
    return f"needs {listed([*named, 'more'] if len(paths) > MOST_NAMED else named)}"


def value(entry: Entry[T] | None) -> T | None:
    """Return an entry's value, None for an absent one."""
    return None if entry is None else entry.value


def present(entry: Entry[T] | None) -> T:
    """Return the value of an entry that is there, as whoever asks has made sure."""
    assert entry is not None
    return entry.value


def unread(budget: Budget, *paths: str) -> bool:
    """Return whether any of the fields, or the block that it stands in, made no sense."""
    return any(_broken(budget, path) for path in paths)


def _broken(budget: Budget, path: str) -> str:
    """Return which part of the document made no sense: a field or the block around it; "" where all did."""
    if not budget.unread:
        return ""
    return next((each for each in _with_blocks(path) if each in budget.unread), "")


def _with_blocks(path: str) -> Iterable[str]:
    """Yield a path and the paths of the blocks around it.

    Examples
    --------
    >>> list(_with_blocks("gear.1.mass"))
    ['gear', 'gear.1', 'gear.1.mass']
    """
    parts = path.split(".")
    return (".".join(parts[: number + 1]) for number in range(len(parts)))


class Needs:
    """Reads entries of a budget for one answer, and notes which it lacks: absent, or not to be read."""

    def __init__(self, budget: Budget) -> None:
        self.budget = budget
        self._missing: dict[str, None] = {}

    @property
    def missing(self) -> tuple[str, ...]:
        """The paths noted so far, each once, in their order."""
        return tuple(self._missing)

    def note(self, *paths: str) -> None:
        """Note fields that the answer waits for."""
        self._missing.update(dict.fromkeys(paths))

    def must(self, path: str, entry: Entry[T] | None) -> T | None:
        """Return the value of an entry that the answer cannot do without; None once it is noted."""
        broken = _broken(self.budget, path)
        if entry is None or broken:
            self.note(broken or path)
            return None
        return entry.value

    def may(self, path: str, entry: Entry[T] | None) -> T | None:
        """Return the value of an entry that may be absent; one that cannot be read is noted, and is None."""
        if not self.sound(path):
            return None
        return None if entry is None else entry.value

    def usual(self, path: str, entry: Entry[T]) -> T:
        """Return the value of an entry that has a default; one that cannot be read is noted."""
        self.sound(path)
        return entry.value

    def sound(self, *paths: str) -> bool:
        """Return whether all of the fields could be read or are absent; note those that could not."""
        if not self.budget.unread:
            return True
        broken = [found for path in paths if (found := _broken(self.budget, path))]
        self.note(*broken)
        return not broken
