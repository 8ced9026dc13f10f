"""The places of the page that show an answer: each is written anew when something was typed."""

from collections.abc import Iterator, Mapping
from typing import Any

from site_src.app.render import render
from site_src.app.view import Answer


def places(answer: Answer, more: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield each place's id with its HTML; `more` may hold `baseline` (a comparison) and `example` (nobody's own)."""
    context = {"answer": answer, **more}
    for place in ("answer", "more", "bar"):
        yield place, render(f"{place}.html", context)
    yield "gear-foot", render("subjects/weights/foot.html", context)
    for name, brief in answer.briefs.items():
        yield f"brief-{name}", render("brief.html", {"brief": brief})
        yield f"of-{name}", render(f"subjects/{name}/answer.html", context)
    for key, line in answer.lines.items():
        yield f"{key}-told", render("told.html", {"line": line})
        yield f"{key}-counts", render("brief.html", {"brief": line.counts})
