"""The closed sets of words that entries and answers are made of, as types: mypy finds a misspelt one."""

from typing import Literal, TypeAlias

# Of entries
KnownBy: TypeAlias = Literal["weighed", "maker", "guess"]  # how a mass is known
DrawKnownBy: TypeAlias = Literal["measured", "maker", "guess"]
Kind: TypeAlias = Literal[
    "receiver", "servo", "coil actuator", "linkage", "altimeter", "tracker", "timer",
    "switch", "wiring", "supply", "mount", "other",
]  # fmt: skip
PartKind: TypeAlias = Kind | Literal["cell", "balsa sheet"]  # of a part of the box, or of a row that counts
Actuator: TypeAlias = Literal["rotary servo", "linear servo", "coil actuator"]
Use: TypeAlias = Literal["contest", "sport"]
Radio: TypeAlias = Literal["steering", "dethermaliser"]
LinkageKind: TypeAlias = Literal["rod", "lines"]
Knot: TypeAlias = Literal["knotted", "looped"]
SurfaceKind: TypeAlias = Literal["hinged", "whole"]
ConverterKind: TypeAlias = Literal["up", "down"]
Between: TypeAlias = Literal["off", "on"]  # the radio between flights
Launch: TypeAlias = Literal["rubber", "motor", "catapult", "towline", "thrown"]
Propeller: TypeAlias = Literal["in it", "none", "folded", "stopped", "free-wheeling"]  # in the glide
BayKind: TypeAlias = Literal["box", "tube", "tapered"]
HatchSide: TypeAlias = Literal["top", "bottom", "front", "back", "left", "right"]
PlugSide: TypeAlias = Literal["end", "side", "top"]  # of a part: where plug or leads come out
Lies: TypeAlias = Literal["any", "upright", "along", "as given", "outside"]  # how a part may lie in a bay
Ground: TypeAlias = Literal["smooth", "grass", "low crops", "high crops"]  # upwind of the field
Shape: TypeAlias = Literal["rod", "tube", "strip", "wire", "thread", "film", "cloth", "filler"]
AirframeGroup: TypeAlias = Literal[
    "wing", "tail", "fin", "fuselage", "pylon", "propeller", "covering", "finish", "small"
]  # fmt: skip
AirframeShape: TypeAlias = Literal[
    "given", "rod", "tube", "strip", "rolled", "cone", "plate", "ribs", "frame", "cover", "finish", "thread", "filler"
]  # fmt: skip
Maturity: TypeAlias = Literal["sketch", "cut", "maker"]  # how the mass of a part not built yet is known

# Of answers
AirframeFrom: TypeAlias = Literal["weighed", "typed", "parts"]  # where the airframe's mass is from
RoomAnswer: TypeAlias = Literal["fits", "cannot", "not_found"]  # of the bays
LimitId: TypeAlias = Literal["share", "target", "class_max", "loading"]
Verdict: TypeAlias = Literal["fits", "close", "over"]  # by weight
WholeVerdict: TypeAlias = Verdict | Literal["fails"]  # of the whole installation
PartOfWhole: TypeAlias = Literal["run", "balance", "strength", "room"]  # what is asked beside the grams
Standing: TypeAlias = Literal["good", "close", "bad", "open", "not asked"]  # how such a part stands
ResistanceOrigin: TypeAlias = Literal["bench", "given", "meter", "usual"]  # how a cell’s resistance is known
RunEnd: TypeAlias = Literal["reserve", "cutoff", "brownout"]
SensitivityId: TypeAlias = Literal["capacity", "temperature", "resistance", "busy"]
ModelEnd: TypeAlias = Literal["nose", "tail"]
Regime: TypeAlias = Literal["free", "part", "paid"]  # whether ballast would take the place of the gear
Origin: TypeAlias = Literal["given", "timed", "flown", "assumed"]  # where a number of the air is from
SpeedOrigin: TypeAlias = Literal["given", "glide", "launch"]
Judgement: TypeAlias = Literal["better", "worse", "same", ""]  # of a change; "" where neither way is better
Act: TypeAlias = Literal["swap", "change", "add", "leave out"]  # what was done to a part
