"""The HTML follows its own rules, as html-validate knows them: as built, and as rendered for odd documents."""

import subprocess
from pathlib import Path

import pytest

from calc.unit_system import UnitSystem
from site_src.app.boxview import box_view, part_view
from site_src.app.pages import pages
from site_src.app.render import render
from site_src.app.sheetview import sheet_view
from site_src.app.view import view
from site_src.tools.environment import node
from site_src.tools.hostile import DOCUMENTS, EVIL
from tests.support import SITE_SRC, shown_html, squeezed

CHECKER = SITE_SRC / "node_modules" / "html-validate" / "bin" / "html-validate.mjs"


def complaints(*files: Path) -> str:
    """Return what the checker says of files."""
    command = [str(node()), str(CHECKER), "--config", str(SITE_SRC / "htmlvalidate.json"), "--formatter", "text"]
    done = subprocess.run([*command, *map(str, files)], capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr[-500:]
    return done.stdout


@pytest.mark.node
def test_every_page(built_site: Path) -> None:
    found = sorted(built_site.glob("*.html"))
    assert len(found) == len(pages())
    assert complaints(*found) == ""


@pytest.mark.node
def test_pages_of_odd_documents(tmp_path: Path) -> None:
    shell = '<!doctype html><html lang="en"><head><title>a page</title></head><body><main>{}</main></body></html>'
    for name, document in DOCUMENTS.items():
        shown = view(document)
        html = [shown_html(shown.answer), f"<form>{render('form.html', {'view': shown})}</form>"]
        box = {"parts": document.get("gear", []), "name": EVIL}
        html += [render("boxtable.html", {"box": box_view(box)})]
        html += [f"<form>{render('boxpart.html', {'part': part_view(document, UnitSystem.METRIC)})}</form>"]
        html += [render("sheet.html", {"sheet": sheet_view(document)})]
        for number, piece in enumerate(html):
            (tmp_path / f"{name.replace(' ', '-')}-{number}.html").write_text(
                shell.format(piece), encoding="utf-8", errors="replace"
            )
    assert complaints(*sorted(tmp_path.glob("*.html"))) == ""


@pytest.mark.node
def test_the_checker_finds_what_is_wrong(tmp_path: Path) -> None:
    (tmp_path / "bad.html").write_text("<!doctype html><p><div>x</div></p><img src=x>", encoding="utf-8")
    assert "error" in complaints(tmp_path / "bad.html")


@pytest.mark.parametrize(
    ("html", "left"),
    [
        ("<td>1\n  of <b>2</b>\n</td>\n  <td>", "<td>1 of <b>2</b></td><td>"),
        ("<p>in\n  <b>hand</b> <i>now</i>,\n", "<p>in <b>hand</b> <i>now</i>, "),  # a blank that a reader sees stays
        ("<b>over</b>all", "<b>over</b>all"),  # and none comes
        ("<pre>a</pre> <param>", "<pre>a</pre> <param>"),  # of a like name
        ("8\u00a0g\n</dd>", "8\u00a0g</dd>"),
    ],
)
def test_squeezed_html_reads_as_before(html: str, left: str) -> None:
    """What the tests of exact HTML compare."""
    assert squeezed(html) == left
