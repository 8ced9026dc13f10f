"""Budgets of our own that do not fit, each for one reason; invented figures, chosen so that the reason is plain."""

from typing import Any

from calc.assess import Assessment, assess
from calc.changes.change import Change
from calc.changes.edits import applied, backwards
from calc.changes.find import Found, find
from calc.document.box import read_box
from calc.document.budget import read

SOUND: dict[str, Any] = {
    "model": {"airframe": "40 g", "target": "50 g"},
    "rule": {"share": "50 %"},
    "gear": [
        {"kind": "receiver", "name": "cased receiver", "mass": "2.0 g", "draw": "30 mA", "min_volts": "3.0 V"},
        {"kind": "servo", "name": "small servo", "mass": "3.0 g", "draw": "6 mA", "busy_draw": "150 mA", "busy": "10 %",
         "min_volts": "3.0 V"},
        {"kind": "altimeter", "name": "logger", "mass": "1.5 g", "draw": "5 mA", "min_volts": "3.0 V"},
    ],
    "cell": {"name": "plain cell", "mass": "2.5 g", "capacity": "70 mAh", "resistance": "0.5 ohm"},
    "session": {"flights": 5, "on_time": "10 min", "temperature": "20 °C"},
}  # fmt: skip
BOX: dict[str, Any] = {
    "parts": [
        {"kind": "receiver", "name": "bare receiver", "mass": "1.2 g", "draw": "25 mA", "min_volts": "3.0 V"},
        {"kind": "receiver", "name": "heavy receiver", "mass": "4 g", "draw": "25 mA", "min_volts": "3.0 V"},
        {"kind": "receiver", "name": "secret receiver", "mass": "0.5 g"},
        {"kind": "receiver", "name": "guessed receiver", "mass": "1.1 g", "known_by": "guess", "draw": "25 mA",
         "min_volts": "3.0 V"},
        {"kind": "receiver", "name": "garbled receiver", "mass": "0.4 gg", "draw": "25 mA"},
        {"kind": "servo", "name": "lighter servo", "mass": "2.9 g", "draw": "6 mA", "busy_draw": "150 mA",
         "busy": "10 %", "min_volts": "3.0 V"},
        {"kind": "cell", "name": "larger cell", "mass": "2.6 g", "capacity": "120 mAh", "resistance": "0.4 ohm"},
        {"kind": "cell", "name": "smaller cell", "mass": "1.0 g", "capacity": "30 mAh", "resistance": "0.9 ohm"},
        {"kind": "cell", "name": "nameless charge", "mass": "0.1 g"},
    ]
}  # fmt: skip


def with_(document: dict[str, Any], **blocks: Any) -> dict[str, Any]:
    """Return a budget with entries of its blocks put in; `row0` is the first row of the gear."""
    changed = {**document, "gear": [dict(row) for row in document["gear"]]}
    for key, entries in blocks.items():
        if key.startswith("row"):
            changed["gear"][int(key[3:])].update(entries)
        else:
            changed[key] = {**changed.get(key, {}), **entries}
    return changed


OVER = with_(SOUND, model={"target": "48.5 g"})  # 9.0 g of gear, 8.5 g allowed
SHORT_RUN = with_(SOUND, cell={"capacity": "20 mAh"}, session={"on_time": "11 min"})  # about 55 mA: at worst 10 min
NOSE_LEAD = with_(
    SOUND,
    model={"target": "49.2 g"},
    row0={"station": "200 mm"}, row1={"station": "220 mm"}, row2={"station": "210 mm"}, cell={"station": "150 mm"},
    balance={"airframe_at": "200 mm", "target": "195 mm", "nose_at": "20 mm", "tail_at": "700 mm"},
)  # fmt: skip
WEAK: dict[str, Any] = {
    **SOUND,
    "gear": [dict(row) for row in SOUND["gear"]],
    "surface": {
        "kind": "hinged", "span": "100 mm", "chord": "60 mm", "flap_chord": "20 mm", "deflection": "20°",
        "speed": "12 m/s", "actuator": "rotary servo", "horn": "8 mm", "arm": "6 mm", "torque": "0.8 mN m",
    },
}  # fmt: skip
STRONG_BOX: dict[str, Any] = {
    "parts": [
        {"kind": "servo", "name": name, "mass": mass, "draw": "6 mA", "busy_draw": "150 mA", "busy": "10 %",
         "min_volts": "3.0 V", **rated}
        for name, mass, rated in (
            ("strong servo", "3.4 g", {"torque": "20 mN m"}),
            ("stronger servo", "3.6 g", {"torque": "40 mN m"}),
            ("weak servo", "2.0 g", {"torque": "0.85 mN m"}),
            ("servo of unknown strength", "1.0 g", {}),
            ("linear servo", "1.0 g", {"thrust": "2 N"}),
        )
    ]
}  # fmt: skip


def answered(document: Any) -> Assessment:
    """Return the answer to a document, as anybody else would work it out."""
    return assess(read(document).budget)


def found(document: Any, box: Any = None, most: int = 60) -> Found:
    """Return the changes, after each of them was applied and assessed anew."""
    listed = find(document, None if box is None else read_box(box), most)
    for change in listed.changes:
        if change.edits:
            after = applied(document, change.edits)
            assert answered(after).whole == change.assessment.whole
            assert applied(after, backwards(change.edits)) == document
            assert change.fits == (answered(after).whole.verdict == "fits" and not change.opens)
    return listed


def named(listed: Found, code: str, path: str = "") -> list[Change]:
    """Return the changes of one sort, at a path if that is given."""
    return [each for each in listed.changes if each.what.code == code and path in ("", each.what.path)]
