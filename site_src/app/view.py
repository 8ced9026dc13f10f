"""What the templates are given: the form's entries as typed, notes beside them, and the answer.

Built from any document, sound or not: whatever was typed is shown again, as text.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from calc.document.budget import Reading, read
from calc.document.fields import Entry, QuantityField
from calc.document.letters import plain
from calc.document.systems import is_bare_number
from calc.unit_system import UnitSystem
from site_src.app.answer import Answer, answer
from site_src.app.beside import notes, problems, quantities
from site_src.app.controls import Control, Lines, all_controls, all_lines, shown_text


@dataclass(frozen=True, kw_only=True)
class View:
    """Everything a page needs to show one document; each part of it is made when it is first asked for."""

    source: Mapping[str, Any]  # the document as it came
    reading: Reading
    answer: Answer

    @property
    def system(self) -> UnitSystem:
        """The system of units that it is typed and told in."""
        return self.answer.system

    @property
    def name(self) -> str:
        """The budget's name as it was typed, safe to stand beside other text."""
        return plain(shown_text(self.source.get("name")))

    @cached_property
    def lists(self) -> Mapping[str, Lines]:
        """The rows of each list."""
        return all_lines(self.source)

    @cached_property
    def problems(self) -> Mapping[str, str]:
        """A sentence for each field that was not understood, by its path."""
        return problems(self.reading)

    @cached_property
    def notes(self) -> Mapping[str, str]:
        """What is said beside sound fields, by their path."""
        return notes(self.reading.budget, self._typed)

    @cached_property
    def bare(self) -> tuple[str, ...]:
        """Paths of the numbers typed without their unit."""
        return tuple(path for path, _, entry in self._typed if is_bare_number(entry.typed))

    @cached_property
    def controls(self) -> Mapping[str, Control]:
        """Every field of the form."""
        return all_controls(self.source, self.system, self.problems, self.notes)

    @cached_property
    def _typed(self) -> tuple[tuple[str, QuantityField, Entry[float]], ...]:
        return tuple(quantities(self.reading.budget))


def view(document: object, why: Iterable[str] = ()) -> View:
    """Return the view of a document of any shape; `why` names the parts of the answer that show their workings."""
    reading = read(document)
    source = document if isinstance(document, Mapping) else {}
    return View(source=source, reading=reading, answer=answer(reading.budget, why))
