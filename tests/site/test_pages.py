"""The pages as built: complete, readable without a script, and the same templates as in the browser."""

import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from site_src.app import bridge
from site_src.app.pages import FIRST, class_rows, pages
from site_src.tools import site
from site_src.tools.environment import SetupError
from tests.support import ROOT, SITE_SRC, demo_documents, squeezed

HTML = pages()


class Collector(HTMLParser):
    """Collects what the checks below look at."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))


def tags_of(page: str) -> list[tuple[str, dict[str, str | None]]]:
    """Return every tag of a page with its attributes."""
    collector = Collector()
    collector.feed(HTML[page])
    return collector.tags


@pytest.mark.parametrize("page", HTML)
def test_ids_are_unique_and_references_have_a_target(page: str) -> None:
    tags = tags_of(page)
    ids = [attributes["id"] for _, attributes in tags if attributes.get("id")]
    assert len(ids) == len(set(ids))
    for _, attributes in tags:
        for name in ("for", "aria-describedby", "aria-labelledby", "aria-controls"):
            for target in (attributes.get(name) or "").split():
                assert target in ids


@pytest.mark.parametrize("page", HTML)
def test_nothing_inline_and_nothing_from_elsewhere(page: str) -> None:
    """What the page's own content security policy would refuse."""
    for tag, attributes in tags_of(page):
        assert tag != "style"
        assert not [name for name in attributes if name == "style" or name.startswith("on")]
        assert tag != "script" or attributes.get("src")
        for name in ("src", "href"):
            assert not re.match(r"[a-z]+:|//", attributes.get(name) or "")


@pytest.mark.parametrize("page", HTML)
def test_links_lead_to_files_of_the_site(page: str, built_site: Path) -> None:
    for _, attributes in tags_of(page):
        for name in ("src", "href"):
            target = (attributes.get(name) or "").split("#")[0]
            assert not target or (built_site / target).is_file()


def names(folder: str, ending: str) -> set[str]:
    return {path.stem for path in (SITE_SRC / folder).glob(f"*{ending}")}


def test_each_template_of_a_page_is_a_page_with_its_own_script_and_a_place_in_the_navigation() -> None:
    """Else nobody sees what was left out of a new page: it is not built, starts nothing, or no link leads there."""
    asked, reached = {}, set()
    for file in HTML:
        tags = tags_of(file)
        name = next(attributes["data-page"] for tag, attributes in tags if tag == "html")
        asked[name] = [attributes["src"] for tag, attributes in tags if tag == "script"]
        current = [attributes["href"] for _, attributes in tags if attributes.get("aria-current") == "page"]
        reached |= {name} if set(current) == {file} else set()
    assert set(asked) == names("templates/pages", ".html")
    assert reached == set(asked)
    own = names("scripts/pages", ".mjs")
    assert asked == {name: ["begin.js", f"{name}.mjs"] if name in own else [] for name in asked}
    assert own <= set(asked)


def test_the_example_stands_fully_worked_out_in_the_page() -> None:
    """The very HTML that the worker would give for it."""
    request = json.dumps({"id": 1, "method": "form", "params": {"document": demo_documents()[FIRST]}})
    result = json.loads(bridge.handle(request))["result"]
    assert "Fits, with 0.60" in result["places"]["answer"]
    for place, html in result["places"].items():
        expected = html.replace("An example: ", "") if place == "answer" else html
        assert " ".join(expected.split()) in " ".join(HTML["index.html"].replace("An example: ", "").split()), place
    assert result["form"] in HTML["index.html"]
    assert "Fits, with 0.60\u00a0g in hand" in HTML["index.html"]
    assert "<noscript>" in HTML["index.html"]


def test_class_table_tells_what_the_share_rule_leaves() -> None:
    """Common practice, no source: a 40 g model takes 8 g, a 50 g one 10 g, 70 g take 14 g."""
    left = {row.rule.id: row.gear_kg for row in class_rows()}
    assert left["p30"] == pytest.approx(0.008)
    assert left["p30-50"] == pytest.approx(0.010)
    assert left["f1g"] == pytest.approx(0.014)
    assert left["f3k"] is None
    assert "<strong>8 g</strong>" in HTML["classes.html"]


def test_every_class_figure_is_shown_with_where_it_was_read() -> None:
    html = squeezed(HTML["classes.html"])
    for row in class_rows():
        assert row.rule.source
        assert f'{row.rule.name}<br><span class="ounces">{row.rule.as_of}</span>' in html
        assert f'id="{row.rule.id}"' in HTML["classes.html"]
    assert HTML["classes.html"].count('class="source"') == len(list(class_rows()))


def test_cautions_are_where_they_belong() -> None:
    for words in ("Lithium cells", "Wound rubber", "Dust and adhesives", "Not over or near people", "it is free again"):
        assert words in HTML["cautions.html"]
    assert "check range and the direction of every control" in HTML["index.html"]
    assert "never below 0 °C" in HTML["index.html"]


def test_previews_name_the_site_in_full_where_its_address_is_known() -> None:
    unknown, known = pages(), pages("https://example.org/club/")
    for file, html in known.items():
        at = "" if file == "index.html" else file
        assert '<meta property="og:image" content="https://example.org/club/preview.png">' in html
        assert f'<link rel="canonical" href="https://example.org/club/{at}">' in html
        assert '<meta property="og:image" content="preview.png">' in unknown[file]
        assert "canonical" not in unknown[file]


@pytest.mark.parametrize("address", ["example.org", "https://example.org", 'https://e.org/"><b>/', "ftp://e.org/"])
def test_an_address_that_is_none_is_refused(address: str, tmp_path: Path) -> None:
    with pytest.raises(SetupError, match="must look like"):
        site.build(tmp_path / "_site", address)
    assert not (tmp_path / "_site").exists()


def test_the_readme_shows_pictures_that_are_there() -> None:
    named = re.findall(r"\]\((site_src/[^)]+\.png)\)", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert len(named) >= 4
    assert [name for name in named if not (ROOT / name).is_file()] == []
