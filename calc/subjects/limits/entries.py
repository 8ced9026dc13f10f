"""What is entered for the subject limits: the rule of thumb."""

from dataclasses import dataclass

from calc.document.fields import Entry, quantity


@dataclass(frozen=True, kw_only=True)
class Rule:
    """The rule of thumb: gear as a share of flying weight."""

    share: Entry[float] = quantity("Share for the gear", "ratio", 0.01, 0.9, default=0.20)
