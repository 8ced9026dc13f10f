"""The part of the worker's door for what leaves the page or comes to it as a file; see `bridge`.

The QR code, the sheet for the field box, gear as CSV.
"""

from collections.abc import Callable, Mapping
from typing import Any

from calc.document import box, boxfile, gearcsv, link
from calc.document.blocks import GearPart
from calc.document.jsontext import loads
from calc.document.letters import plain
from calc.english import counted
from calc.errors import BudgetError, LinkError, Problem
from site_src.app import given, qr
from site_src.app.given import mapping
from site_src.app.render import render
from site_src.app.sheetview import sheet_view


def show_code(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the QR code of an address, for the screen and for paper; a sentence where the address is too long."""
    address = str(params["address"])
    found = qr.code(address)
    if found is None:
        told = (
            f"The link has {len(address)} characters; a QR code holds at most {qr.LONGEST}. "
            "Send the link, or save the budget as a file."
        )
        return {"screen": "", "paper": "", "told": told}
    side, path = found
    drawn = {"side": side, "path": path}
    return {
        "screen": render("qr.html", {**drawn, "width": qr.screen_px(side)}),
        "paper": render("qr.html", {**drawn, "width": f"{qr.print_mm(side)}mm"}),
        "told": "",
    }


def show_sheet(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the sheet for the field box, and the link that the code on it is to hold; "" if it is too long."""
    document = mapping(params["document"])
    try:
        fragment = link.encode(document)
    except LinkError:
        fragment = ""
    return {"html": render("sheet.html", {"sheet": sheet_view(document)}), "link": fragment}


def save_gear(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a budget's gear as CSV."""
    return {"text": gearcsv.gear_to_csv(mapping(params["document"]))}


def open_any(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a file's text holds: the document of a budget, or `document` with the parts of a CSV in its gear.

    Then `told` says what came of it; it is empty for a budget. `warned` says whether letters were lost: what is not
    UTF-8 a browser reads as �. `plain` says that nothing is to be shown before: a budget, or a CSV as the page writes
    it of which nothing is left aside.
    """
    text = str(params["text"]).removeprefix("\ufeff")
    warned = given.letters_lost(text)
    if boxfile.is_json(text):
        return {"document": _budget(loads(text)), "told": "", "warned": warned, "plain": True}
    added = gearcsv.gear_from_csv(text, mapping(params["document"]))
    aside = added.ignored or added.cells_left or added.sheets_left
    own = boxfile.is_own_csv(text, GearPart) and not (warned or aside)
    told = f"{added_told(added)} {warned}".strip()
    return {"document": added.document, "told": told, "warned": warned, "plain": own}


def _budget(found: object) -> dict[str, Any]:
    if not isinstance(found, dict):
        raise LinkError("not_a_budget")
    if box.is_box(found):
        raise BudgetError((Problem(field="", code="is_a_box"),))
    return found


def sheets_told(count: int) -> str:
    """Return what is said of sheets of balsa among parts for the gear."""
    return f"{counted(count, 'sheet')} of balsa left aside: for the airframe, in My parts"


def added_told(added: gearcsv.Added) -> str:
    """Return what came of a file in the gear, in a sentence."""
    said = [f"{added.parts} {'part is' if added.parts == 1 else 'parts are'} added to the gear"]
    said += ["the cell is in its place"] if added.cell else []
    said += ["a cell was left aside: the budget has one"] if added.cells_left else []
    said += [sheets_told(added.sheets_left)] if added.sheets_left else []
    said += (
        [f"columns left aside: {', '.join(plain(name[:40]) for name in added.ignored[:20])}"] if added.ignored else []
    )
    return f"{'; '.join(said)}."


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "qr": show_code,
    "sheet": show_sheet,
    "gear_csv": save_gear,
    "open_any": open_any,
}
