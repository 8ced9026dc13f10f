"""The answer for the whole installation in words: the headline, and what it is made of."""

from collections.abc import Callable, Mapping, Sequence

from calc.assess import Assessment
from calc.english import counted, listed, the
from calc.subjects.balance import words as balance_words
from calc.subjects.limits.allowance import TIE_KG, Limit, governing
from calc.subjects.limits.sure import ChanceBlock, Weighing
from calc.subjects.limits.words import LIMITS
from calc.subjects.power import words as power_words
from calc.subjects.room import words as room_words
from calc.subjects.surface import words as surface_words
from calc.unit_system import UnitSystem
from calc.vocabulary import PartOfWhole
from calc.wording import field_name, lowered


def headline(assessment: Assessment, system: UnitSystem) -> str:
    """Return the answer for the whole installation as a person would say it."""
    return " ".join(headline_parts(assessment, system)).strip()


def headline_parts(assessment: Assessment, system: UnitSystem) -> tuple[str, str]:
    """Return the headline in two parts: the verdict, and what is to be added; the second may be empty.

    The verdict is about the grams with the lead that balance takes, how sure that is, and what else fails. Then which
    limit comes first, what is good, what is still open, and what was not asked.
    """
    fails = _sentence("But", [PARTS[name](assessment, system) for name in assessment.whole.that_are("bad")])
    if assessment.governs is None or assessment.chance is None:
        return " ".join([_no_limit(assessment), *fails]), " ".join(_others(assessment, system))
    grams = _grams(assessment, assessment.chance, system)
    so_far = f"So far: {lowered(grams)}" if assessment.weight_open else grams
    first = _first(assessment.limits, assessment.governs)
    return " ".join([so_far, *fails]), " ".join([first, *_others(assessment, system)])


def _no_limit(assessment: Assessment) -> str:
    lacking = listed([lowered(field_name(path)) for path in assessment.missing.get("limits", ())])
    return f"No limit can be worked out yet: that needs the {lacking.removeprefix('model, ')}."


PART_NAMES: Mapping[PartOfWhole, str] = {
    "run": "run time",
    "balance": "balance",
    "strength": "strength",
    "room": "room",
}


def _grams(assessment: Assessment, chance: ChanceBlock, system: UnitSystem) -> str:
    """Return verdict, margin and chance by weight, lead counted; there is a limit."""
    limits, verdict = assessment.limits_with_lead, assessment.by_weight
    narrow = min(limits, key=lambda limit: limit.in_hand_kg)
    in_hand = _margin(narrow, system)
    if verdict == "over":
        said = f"Over by {in_hand}"
    elif verdict == "fits":
        word = "Fits" if assessment.whole.verdict != "fails" else "By weight it fits"
        said = f"{word}, with {in_hand} in hand"
    else:
        said = f"Close: {in_hand} {'over' if narrow.in_hand_kg < 0 else 'in hand'}"
        if narrow.verdict == "fits":
            unsure = next(limit for limit in limits if limit.verdict == "close")
            said += f", but {_margin(unsure, system)} at the {LIMITS[unsure.id]}"
            said += f" is known only to ± {system.spread(unsure.spread_kg)}"
    return f"{said}{_lead_counted(assessment, system)}{_comes_out(assessment, system)}{how_sure(assessment, chance)}"


def _lead_counted(assessment: Assessment, system: UnitSystem) -> str:
    """Return that lead is counted, and what would be in hand without it."""
    if assessment.lead_kg <= 0.0:
        return ", the lead for balance not counted, for it is not known" if assessment.lead_open else ""
    before = min(assessment.limits, key=lambda limit: limit.in_hand_kg)
    side = "over" if before.in_hand_kg < 0 else "in hand"
    lead = f"{system.mass(assessment.lead_kg)} of lead at the {_end(assessment)}"
    return f", {lead} counted (without the lead {_margin(before, system)} {side})"


def _end(assessment: Assessment) -> str:
    ballast = None if assessment.balance is None else assessment.balance.ballast
    return "" if ballast is None else ballast.end


def _comes_out(assessment: Assessment, system: UnitSystem) -> str:
    """Return the condition that the answer stands on while no airframe is known."""
    kg = assessment.supposed_kg
    return "" if kg is None else f", if the model comes out at {system.round_mass(kg)}"


def how_sure(assessment: Assessment, found: ChanceBlock) -> str:
    """Return how sure the grams are, and what would settle it; with the full stop that ends the sentence.

    Nothing is said of it while the lead that balance takes is not known, unless the model is over without any.
    """
    if assessment.lead_open and assessment.by_weight != "over":
        return "."
    if found.all in (0.0, 1.0):
        return ", in every case you gave."
    words = chance_words(found.all)
    if assessment.by_weight == "fits":
        return f", {words}." if words == "nearly sure" else f", but the chance is {words}."
    said = f"; {words}{' to fit' if words == 'nearly sure' else ' that it fits'}."
    known = assessment.model.airframe_kg is not None
    return said if assessment.by_weight == "over" else f"{said} {_settles(found.settle, known)}"


def chance_words(chance: float) -> str:
    """Return a chance that is neither 0 nor 1, with one denominator everywhere.

    Examples
    --------
    >>> [chance_words(each) for each in (0.999, 0.88, 0.278, 0.06, 0.01)]
    ['nearly sure', 'about 9 in 10', 'about 3 in 10', 'about 1 in 10', 'hardly a chance']
    """
    if chance > NEARLY:
        return "nearly sure"
    if chance < 1.0 - NEARLY:
        return "hardly a chance"
    return f"about {min(9, max(1, round(10.0 * chance)))} in 10"


NEARLY = 0.95  # 19 in 20


def _settles(weigh: Weighing | None, airframe: bool) -> str:
    """Return the weighing that would settle most; `airframe` says whether the airframe's mass is known."""
    if weigh is None:
        return f"All {'is' if airframe else 'the gear is'} weighed: only a finer scale would tell."
    return f"Weigh {the(weigh.name)}: that settles it." if weigh.settles else f"Weigh {the(weigh.name)} first."


def _first(limits: Sequence[Limit], governs: Limit) -> str:
    """Return which limit comes first; of equals all of them."""
    equal = [limit for limit in limits if limit.in_hand_kg - governs.in_hand_kg <= TIE_KG]
    names = [f"the {LIMITS[limit.id]}" for limit in equal]
    text = listed(names)
    text = f"{text[:1].upper()}{text[1:]}"
    if len(limits) == 1:
        return f"{text} decides."
    return f"{text} comes first." if len(equal) == 1 else f"{text} leave the same."


def _others(assessment: Assessment, system: UnitSystem) -> list[str]:
    """Return what is close, good, open and not asked beside the grams, each as a sentence."""
    found = assessment.whole
    said = _sentence("Just:", [PARTS[name](assessment, system) for name in found.that_are("close")])
    said += _sentence("It", [_good(assessment, name) for name in found.that_are("good")])
    said += _sentence("Still open:", [PART_NAMES[name] for name in found.that_are("open")])
    session = assessment.power is not None  # the cell is there, but no session
    names = ["a session" if name == "run" and session else PART_NAMES[name] for name in found.that_are("not asked")]
    return said + _sentence("Not asked yet:", names)


def _good(assessment: Assessment, name: PartOfWhole) -> str:
    """Return what is good, with the condition that it stands on."""
    if name == "balance" and assessment.lead_kg > 0.0:
        return "balances with that lead"
    if name != "strength":
        return GOOD[name]
    glide = assessment.surface is not None and assessment.surface.speed_from == "glide"
    surface = assessment.budget.surface
    coil = surface is not None and surface.actuator.value == "coil actuator"
    strong = GOOD[name] if coil or assessment.linkage is not None else "has a strong enough actuator"
    return f"{strong} in the glide" if glide else strong


def _sentence(begin: str, names: Sequence[str]) -> list[str]:
    return [f"{begin} {listed(names)}."] if names else []


GOOD: Mapping[PartOfWhole, str] = {
    "run": "runs for the session", "balance": "balances", "strength": "is strong enough", "room": "goes into its bays",
}  # fmt: skip


PARTS: Mapping[PartOfWhole, Callable[[Assessment, UnitSystem], str]] = {
    "run": power_words.fails,
    "balance": balance_words.fails,
    "strength": surface_words.fails,
    "room": room_words.fails,
}


def _margin(limit: Limit, system: UnitSystem) -> str:
    """Return what is in hand or over, without its sign."""
    return system.mass(abs(limit.in_hand_kg), limit.spread_kg)


def short_headline(assessment: Assessment, system: UnitSystem) -> str:
    """Return the answer in a few words, for the bar on a narrow screen."""
    governs, verdict = governing(assessment.limits_with_lead), assessment.by_weight
    bad = [PART_NAMES[name] for name in assessment.whole.that_are("bad")]
    if governs is None or verdict is None:
        return f"No limit yet{f'; {listed(bad)} not' if bad else ''}"
    in_hand = _margin(governs, system)
    if governs.in_hand_kg < 0:
        said = f"over by {in_hand}" if verdict == "over" else f"{verdict}, {in_hand} over"
    else:
        said = f"{verdict}, {in_hand} in hand"
    said += " with lead" if assessment.lead_kg > 0 else ""
    said += f", but not {listed(bad)}" if bad else ""
    if not assessment.weight_open:
        return f"{said[:1].upper()}{said[1:]}"
    missing = len(assessment.uncounted)
    return f"So far {said}{_missing(missing)}"


def _missing(number: int) -> str:
    return f"; {counted(number, 'mass', 'masses')} missing" if number else ""
