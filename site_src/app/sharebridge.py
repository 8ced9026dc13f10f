"""The part of the worker's door for what leaves the page: the QR code, the sheet for the field box; see `bridge`."""

from collections.abc import Callable, Mapping
from typing import Any

from site_src.app import qr
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
    return {
        "screen": render("qr.html", {"code": found, "width": found.screen_px}),
        "paper": render("qr.html", {"code": found, "width": f"{found.print_mm}mm"}),
        "told": "",
    }


def show_sheet(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the sheet for the field box."""
    return {"html": render("sheet.html", {"sheet": sheet_view(params["document"])})}


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {"qr": show_code, "sheet": show_sheet}
