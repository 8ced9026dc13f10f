"""What is said of the choices on the airframe."""

from collections.abc import Iterator

from calc import digits
from calc.english import the
from calc.savings.find import Saving, Savings
from calc.unit_system import UnitSystem

NOT_COUNTED = "The airframe’s mass is typed as a whole: what is in hand goes by that, not by its parts."
KINDS = {"thickness": "thickness", "width": "width", "pitch": "ribs every", "coats": "coats", "material": ""}
SEEN_S = 0.05


def what(saving: Saving) -> str:
    """Return a choice in words.

    Examples
    --------
    >>> from calc.savings.find import find
    >>> cover = {"shape": "cover", "material": "tissue", "span": "1 m", "root": "100 mm", "name": "covering"}
    >>> what(find({"airframe": [cover]}).list[0])
    'covering: condenser paper instead of model tissue'
    """
    choice = saving.choice
    if choice.name == "lines":
        return f"{saving.part}: lines instead of the rod"
    kind = KINDS[choice.name]
    return f"{saving.part}: {f'{kind} ' if kind else ''}{choice.after} instead of {choice.before}"


def sentence(saving: Saving, found: Savings) -> str:
    """Return what a choice saves or costs, what is in hand with it, and what it does to the still-air time."""
    system = found.system
    verb = "saves" if saving.saved_kg > 0.0 else "costs"
    said = f"{what(saving)} {verb} {system.mass(abs(saving.saved_kg))}"
    if saving.in_hand_kg is not None and (found.counts or saving.choice.name == "lines"):
        said += f", {_hand(saving.in_hand_kg, system)}"
    if saving.still_air_s is not None and abs(saving.still_air_s) >= SEEN_S:
        sign = "+" if saving.still_air_s > 0.0 else "−"
        said += f", still air {sign}{digits.figures(abs(saving.still_air_s))} s"
    return f"{said}."


def _hand(kg: float, system: UnitSystem) -> str:
    return f"{system.mass(abs(kg))} {'in hand' if kg >= 0.0 else 'over'}"


def headline(found: Savings) -> str:
    """Return what is in hand now and with the choice that saves most; "" where no choice saves anything."""
    best = next((each for each in found.list if each.saved_kg > 0.0), None)
    if best is None:
        return "No choice beside these parts saves anything."
    if not found.counts or found.in_hand_kg is None or best.in_hand_kg is None:
        said = f"Most is saved on {the(best.part)}: {found.system.mass(best.saved_kg)}."
        return said if found.counts else f"{said} {NOT_COUNTED}"
    now, then = (_hand(kg, found.system) for kg in (found.in_hand_kg, best.in_hand_kg))
    return f"{now[:1].upper()}{now[1:]}; with {what(best)} {then}."


CAUTION = "What a choice does to strength and flutter is not worked out."


def lines(found: Savings) -> Iterator[str]:
    """Yield the list as text."""
    yield headline(found)
    yield from (f"- {sentence(each, found)}" for each in found.list)
    if found.cut:
        yield "More choices were left untried: those of the lightest parts."
    yield CAUTION
