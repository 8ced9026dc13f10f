"""A change in a sentence, as one builder says it to another: what to do, and what comes of it."""

from collections.abc import Callable, Iterable, Iterator, Mapping

from calc.changes.change import Change, Proposal
from calc.changes.find import Found
from calc.english import counted, listed, the, wrapped
from calc.headline import PART_NAMES, PARTS
from calc.headline import headline as whole_headline
from calc.unit_system import UnitSystem


def sentence(change: Change, system: UnitSystem) -> str:
    """Return what to do and what comes of it."""
    if change.what.code == "weigh":
        return _weigh(change, system)
    parts = change.parts or (change.what,)
    done = [ACTIONS[part.code](part, system) for part in parts]
    done = [done[0], *(f"{each[:1].lower()}{each[1:]}" for each in done[1:])]
    return f"{', and '.join(done)}: {outcome(change, system)}."


def _swap(what: Proposal, system: UnitSystem) -> str:  # noqa: ARG001 - the texts are the visitor's own
    facts = what.facts
    many = f"{facts['count']} × {facts['part']}" if facts["count"] > 1 else the(facts["part"])
    sizes = [(facts.get("capacity_before", ""), what.before), (facts.get("capacity_after", ""), what.after)]
    if what.name == facts["part"]:
        old, new = (", ".join(filter(None, each)) for each in sizes)
        return f"Use {many} of {new} from your box instead of the one of {old}"
    old, new = (_sized(name, size) for name, size in zip((the(what.name), many), sizes, strict=True))
    return f"Use {new} from your box instead of {old}"


def _sized(name: str, sizes: Iterable[str]) -> str:
    """Return a name with the sizes that it does not tell itself.

    Examples
    --------
    >>> _sized("the rotary servo, 2.4 g", ["", "2.4 g"]), _sized("one cell, 30 mAh", ["30 mAh", "1.0 g"])
    ('the rotary servo, 2.4 g', 'one cell, 30 mAh (1.0 g)')
    """
    told = [size for size in sizes if size and size not in name]
    return f"{name} ({', '.join(told)})" if told else name


def _move(what: Proposal, system: UnitSystem) -> str:
    far = what.facts["moved_m"]
    way = "forward" if far < 0.0 else "aft"
    return f"Move {the(what.name)} {system.length(abs(far), fine=False)} {way}, to {what.after}"


def _leave_out(what: Proposal, system: UnitSystem) -> str:  # noqa: ARG001
    count = what.facts["count"]
    mass = f"{count} × {what.before}" if count > 1 else what.before
    return f"Leave {the(what.name)} out ({mass}), if you can do without"


def _draw(what: Proposal, system: UnitSystem) -> str:  # noqa: ARG001
    work = " at work" if what.facts["at_work"] else ""
    return f"Get {the(what.name)} down to {what.after}{work}, from {what.before}"


def _airframe(what: Proposal, system: UnitSystem) -> str:
    return f"Save {system.mass(what.facts['saved_kg'])} in the airframe ({what.after} instead of {what.before})"


def _flight_time(what: Proposal, system: UnitSystem) -> str:  # noqa: ARG001
    return f"Have the radio on for {what.after} each flight instead of {what.before}"


def _reserve(what: Proposal, system: UnitSystem) -> str:  # noqa: ARG001
    return (
        f"Keep less in reserve, {what.after} instead of {what.before}, which leaves less for the unforeseen and makes "
        "nothing run longer"
    )


ACTIONS: Mapping[str, Callable[[Proposal, UnitSystem], str]] = {
    "swap": _swap, "move": _move, "leave_out": _leave_out, "draw": _draw, "airframe": _airframe,
    "flight_time": _flight_time, "reserve": _reserve,
}  # fmt: skip


def _weigh(change: Change, system: UnitSystem) -> str:
    """Return which part to weigh, and what comes of it if it weighs what was planned."""
    what = change.what
    said = f"Weigh {the(what.name)}: that settles it" if what.facts["settles"] else f"Weigh {the(what.name)} first"
    if not what.facts["fits_as_planned"]:
        return f"{said}."
    return f"{said}; if it is {what.before} as planned, {_grams(change, system)}."


def outcome(change: Change, system: UnitSystem) -> str:
    """Return what comes of a change: the lead, the grams, what still fails, what is not known then."""
    said = [*_lead(change, system), *_part_of_it(change), *_flights(change), _grams(change, system)]
    found = change.assessment
    fails = [PARTS[name](found, system) for name in found.whole.that_are("bad")]
    close = [PART_NAMES[name] for name in found.whole.that_are("close")]
    said = [", ".join(each for each in said if each) or "it runs"]  # without a limit only the run could be bad
    said += [f"but {listed(fails)}"] if fails else []
    said += [f"{listed(close)} only just"] if close else []
    said += [f"whether {listed([OPENS[name] for name in change.opens])} is then open"] if change.opens else []
    return ", ".join(each for each in said if each)


OPENS = {
    "run": "it runs for the session",
    "balance": "it balances",
    "strength": "it is strong enough",
    "room": "it goes in",
}


def _lead(change: Change, system: UnitSystem) -> Iterator[str]:
    """Yield what becomes of the lead that balance takes, where a part is moved."""
    moved = next((part for part in change.parts or (change.what,) if part.code == "move"), None)
    if moved is None:
        return
    was_kg, kg = moved.facts["lead_before_kg"], change.assessment.lead_kg
    if kg <= 0.0:
        yield "no lead needed" if was_kg > 0.0 else "it balances"
    else:
        yield f"{system.mass(kg)} of lead instead of {system.mass(was_kg)}"


def _part_of_it(change: Change) -> Iterable[str]:
    """Return what becomes good beside the grams with a change that is made for that."""
    codes = {part.code for part in change.parts or (change.what,)}
    good = change.assessment.whole.parts["run"] == "good"
    return ("one cell lasts a flight",) if codes & {"draw", "flight_time", "reserve"} and good else ()


def _flights(change: Change) -> Iterator[str]:
    """Yield how many flights one cell does then, where they become fewer."""
    was, now = change.before.power, change.assessment.power
    if was is not None and now is not None and was.flights and now.flights and now.flights < was.flights:
        yield f"one cell does {counted(now.flights, 'flight')} instead of {was.flights}"


def _grams(change: Change, system: UnitSystem) -> str:
    """Return what is in hand or over, and how sure that is where it is not; "" without a limit."""
    governs, verdict = change.governs, change.assessment.by_weight
    if governs is None:
        return ""
    mass = system.mass(abs(governs.in_hand_kg), governs.spread_kg)
    said = f"{mass} {'over' if governs.in_hand_kg < 0.0 else 'in hand'}"
    said = f"still {said}" if verdict == "over" else f"close, {said}" if verdict == "close" else said
    return f"so far {said}" if change.assessment.weight_open else said


def headline(found: Found) -> str:
    """Return what the list is, in a sentence; "" where there is nothing to say."""
    if not found.needed:
        fits = "So far it fits" if found.now.whole.open else "It fits"
        return f"{fits}, but is not sure yet." if found.changes else ""
    fitting = [each for each in found.changes if each.fits and each.what.code != "reserve"]
    if not found.changes:
        said = "No single change that could be tried makes it fit."
    elif not fitting:
        said = "No single change makes it fit. What comes nearest:"
    else:
        said = "Two changes together make it fit:" if all(each.parts for each in fitting) else "What would make it fit:"
    return f"{said}{CUT if found.cut else ''}"


CUT = " (Not everything could be tried; there may be more.)"


def lines(found: Found) -> list[str]:
    """Return the list as lines of plain text; where there is nothing to change, how the budget stands."""
    said = wrapped(headline(found) or ("" if found.changes else _as_it_is(found)))
    return said + [line for each in found.changes for line in wrapped(sentence(each, found.system), "* ")]


def _as_it_is(found: Found) -> str:
    """Return that it fits, or what is known so far of a budget in which something is still open."""
    if found.now.whole.verdict == "fits" and not found.now.whole.open:
        return "It fits: nothing has to change."
    return f"Nothing that is known has to change. {whole_headline(found.now, found.system)}"
