"""The list of subjects, in the order in which they are told. Each layer loops over it and names none of them."""

from calc.subject import Subject
from calc.subjects.air.room import SUBJECT as AIR
from calc.subjects.airframe.room import SUBJECT as AIRFRAME
from calc.subjects.balance.room import SUBJECT as BALANCE
from calc.subjects.field.room import SUBJECT as FIELD
from calc.subjects.flights.room import SUBJECT as FLIGHTS
from calc.subjects.growth.room import SUBJECT as GROWTH
from calc.subjects.limits.room import SUBJECT as LIMITS
from calc.subjects.linkage.room import SUBJECT as LINKAGE
from calc.subjects.motor.room import SUBJECT as MOTOR
from calc.subjects.power.room import SUBJECT as POWER
from calc.subjects.reach.room import SUBJECT as REACH
from calc.subjects.room.room import SUBJECT as ROOM
from calc.subjects.surface.room import SUBJECT as SURFACE
from calc.subjects.weights.room import SUBJECT as WEIGHTS

SUBJECTS: tuple[Subject, ...] = (
    WEIGHTS, LIMITS, GROWTH, AIRFRAME, POWER, BALANCE, SURFACE, LINKAGE, AIR, MOTOR, ROOM, FIELD, REACH, FLIGHTS,
)  # fmt: skip
