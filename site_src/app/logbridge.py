"""The part of the worker's door for the log files of altimeters; see `bridge`.

The page sends a file's text once; text and flights stay here by a number until the file is put away, and what is wrong
with a file is told within the HTML, beside the choices that may put it right.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from calc import units
from calc.document.blocks import MOST
from calc.errors import QuantityError
from calc.subjects.flights import borders, csvlog, igc, logfile, taken
from calc.subjects.flights.logs import HEIGHT_UNITS, PRESSURE_UNITS, TIME_UNITS, Columns, LogError, Wishes
from calc.subjects.flights.parts import Flown
from calc.unit_system import UnitSystem
from site_src.app.given import mapping, number_after
from site_src.app.logview import LogView, flight_view
from site_src.app.render import render

RANGES = {"temperature": ("temperature", 200.0, 340.0), "rate": ("number", 0.01, 1000.0)}
WISHES = ("time_at", "time_unit", "rate", "at", "unit", "temperature")
FOLLOWS = {"at": "unit", "time_at": "time_unit"}  # with another column its unit is recognised anew


@dataclass
class Log:
    """The file that is open: its number, name and text, how it is read, its flights, and those with moved borders."""

    number: int = 0
    name: str = ""
    text: str = ""
    wished: Mapping[str, str] = field(default_factory=dict)  # as chosen and typed
    found: logfile.LogFile | None = None
    moved: dict[int, Flown] = field(default_factory=dict)

    def put_away(self) -> None:
        """Let go of text, samples and flights; the number that the file had is nobody's any more."""
        self.number, self.name, self.text = self.number + 1, "", ""
        self.wished, self.found, self.moved = {}, None, {}


LOG = Log()  # the worker answers one page, and that one shows one file at a time


def open_log(params: Mapping[str, Any]) -> dict[str, Any]:
    """Open a file by its text and name: its number, its HTML, and how many flights it has."""
    LOG.number = number_after(LOG.number, params)
    LOG.name, LOG.text = str(params.get("name", ""))[:80], str(params["text"])
    return _read({}, _system(params))


def close(params: Mapping[str, Any]) -> dict[str, Any]:
    """Put the open file away, unless another one is open by now."""
    if params["log"] != LOG.number:
        return {"dropped": True}
    LOG.put_away()
    return {"closed": True}


def read(params: Mapping[str, Any]) -> dict[str, Any]:
    """Read the open file anew, with a column or a unit that the visitor chose."""
    if params["log"] != LOG.number:
        return {"dropped": True}
    wish, typed = str(params["wish"]), str(params["typed"])[:60]
    kept = {key: each for key, each in LOG.wished.items() if key != FOLLOWS.get(wish)}
    return _read({**kept, wish: typed}, _system(params))


def _read(wished: Mapping[str, str], system: UnitSystem) -> dict[str, Any]:
    LOG.wished, LOG.found, LOG.moved = wished, None, {}
    problem = ""
    try:
        LOG.found = logfile.read(LOG.text, _wishes(wished))
    except LogError as error:
        problem = str(error)
    shown = LogView(
        name=LOG.name, problem=problem, told=() if LOG.found is None else LOG.found.told, columns=_columns(),
        wished={key: wished.get(key, "") for key in WISHES},
        units={**HEIGHT_UNITS, **PRESSURE_UNITS}, time_units=TIME_UNITS,
        flights=tuple(flight_view(at, each, system) for at, each in enumerate(_flights())),
    )  # fmt: skip
    return {"log": LOG.number, "flights": len(shown.flights), "html": render("log.html", {"log": shown})}


def _columns() -> Columns | None:
    """Return how the table was taken, or what there is to choose from where it could not be read; None for no table."""
    if LOG.found is not None:
        return LOG.found.columns
    if igc.is_igc(LOG.text):
        return None
    try:
        named = csvlog.headings(LOG.text)
    except LogError:
        return None
    chosen = {key: LOG.wished.get(key, "") for key in ("time_at", "at")}
    at = {key: int(text) if text.lstrip("-").isdecimal() else None for key, text in chosen.items()}
    return Columns(headings=named, time_at=at["time_at"], at=at["at"]) if len(named) > 1 else None


def _wishes(wished: Mapping[str, str]) -> Wishes:
    unit, time_unit = wished.get("unit", ""), wished.get("time_unit", "")
    return Wishes(
        unit=unit if unit in HEIGHT_UNITS or unit in PRESSURE_UNITS else "",
        time_unit=time_unit if time_unit in TIME_UNITS else "",
        rate=_number("rate", wished),
        ground_k=_number("temperature", wished),
        time_at=_whole(wished.get("time_at", "")),
        at=_whole(wished.get("at", "")),
    )


def _whole(text: str) -> int | None:
    return int(text) if text.isascii() and text.removeprefix("-").isdecimal() and len(text) < 5 else None


def _number(key: str, wished: Mapping[str, str]) -> float | None:
    typed = wished.get(key, "").strip()
    if not typed:
        return None
    dimension, low, high = RANGES[key]
    try:
        found = units.parse(typed, dimension, "metric").si
    except QuantityError:
        found = low - 1.0
    if not low <= found <= high:
        raise LogError(f"no_{key}", typed=typed[:20])
    return found


def _system(params: Mapping[str, Any]) -> UnitSystem:
    return UnitSystem.IMPERIAL if params.get("units") == "imperial" else UnitSystem.METRIC


def _flights() -> tuple[Flown, ...]:
    return () if LOG.found is None else LOG.found.flights


def _flown(params: Mapping[str, Any]) -> tuple[int, Flown] | None:
    """Return number and flight that a request is about, as its borders stand; None where it is there no more."""
    at = params["flight"]
    if params["log"] != LOG.number or not isinstance(at, int) or not 0 <= at < len(_flights()):
        return None
    return at, LOG.moved.get(at, _flights()[at])


def flight(params: Mapping[str, Any]) -> dict[str, Any]:
    """Show a flight of the open file: its graph with the borders, its figures; `found` has them as they were found."""
    if params.get("found"):
        LOG.moved.pop(params["flight"], None)
    asked = _flown(params)
    if asked is None:
        return {"dropped": True}
    shown = flight_view(*asked, _system(params), moved=asked[0] in LOG.moved, drawn=True)
    return {"html": render("logflight.html", {"flight": shown})}


def move(params: Mapping[str, Any]) -> dict[str, Any]:
    """Move a border to a time after the graph's start [s]; return what changes: picture, figures, times of borders."""
    asked = _flown(params)
    key, to = params["border"], params["to"]
    if asked is None or key not in borders.ORDER or not isinstance(to, int | float):
        return {"dropped": True}
    at, flown = asked
    ends = (flown.points[0][0], flown.points[-1][0])
    placed = borders.in_order(flown.borders, key, ends[0] + to, ends)
    LOG.moved[at] = borders.measured(_flights()[at], placed)
    shown = flight_view(at, LOG.moved[at], _system(params), moved=True, drawn=True)
    assert shown.graph is not None  # it was asked for
    return {
        "picture": render("loggraph.html", {"flight": shown}),
        "figures": render("logfigures.html", {"flight": shown}),
        "borders": [{"key": each.key, "second": each.second, "told": each.told} for each in shown.graph.borders],
    }


def take(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a document with a flight of the open file in its log of flights, and what came of it."""
    asked = _flown(params)
    document = mapping(params["document"])
    if asked is None:
        return {"dropped": True}
    before = document.get("flights")
    if isinstance(before, list) and len(before) >= MOST["flights"]:
        return {"full": f"There are {len(before)} flights in the log, as many as it takes: nothing was added."}
    date = "" if LOG.found is None else LOG.found.date
    row, told = taken.row(asked[1], date, LOG.wished.get("temperature", ""), _system(document))
    sentences = [f"Flight {asked[0] + 1} of the file stands in the log of flights.", *told]
    return {"document": taken.with_row(document, row), "told": " ".join(sentences)}


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "log_open": open_log,
    "log_close": close,
    "log_read": read,
    "log_flight": flight,
    "log_move": move,
    "log_take": take,
}
