"""The subject limits: how much gear the model may carry, and how sure that is."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.english import wrapped
from calc.plain import rounded
from calc.subject import Subject
from calc.subjects.limits import answer, data, words
from calc.subjects.weights.words import model_lines
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    led = found.lead_kg > 0.0
    return {
        "verdict": found.verdict,
        "verdict_before_lead": found.verdict_before_lead if led else None,
        "governs": None if found.governs is None else found.governs.id,
        "model": _model(found),
        "limits": data.limits_data(found.limits, found, "limits"),
        "limits_with_lead": data.limits_data(found.limits_with_lead, found, "with_lead") if led else None,
        "chance": data.chance_data(found),
        "class": data.class_data(found.class_),
    }


def _model(found: "Assessment") -> Mapping[str, Any]:
    model, known = found.model, found.model.flying_kg is not None
    return {
        "flying_g": rounded(model.flying_kg, 1e3),
        "with_rubber_g": rounded(model.with_rubber_kg, 1e3),
        "share": rounded(model.share),
        "lead_g": rounded(model.lead_kg, 1e3) if known else None,
        "ballast_g": rounded(model.ballast_kg, 1e3) if known else None,
        "all_up_g": rounded(model.all_up_kg, 1e3),
    }


def _text(found: "Assessment", system: UnitSystem) -> Iterable[Iterable[str]]:
    yield model_lines(found, system)
    yield words.lines(found, system)
    yield wrapped(words.class_sentence(found, system))


SUBJECT = Subject(
    name="limits", title="Model and limits", kind=answer.Limits, answer=answer.answer, brief=words.brief, data=_data,
    text=_text,
)  # fmt: skip
