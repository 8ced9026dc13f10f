"""The places of the page that show an answer: each is written anew when something was typed."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from site_src.app.answer import Answer
from site_src.app.line import Line
from site_src.app.render import render

LINES_KEPT = 512  # of all lists together: at an edit most lines stay as they were


def first_places(answer: Answer, more: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield what is always in view, the verdict; `more` may hold `example`, which says that it is nobody's own."""
    context = {"answer": answer, **more}
    for place in ("answer", "bar"):
        yield place, render(f"{place}.html", context)


def other_places(answer: Answer, more: Mapping[str, Any], shut: Collection[str] = ()) -> Iterator[tuple[str, str]]:
    """Yield the other places, not the answers of subjects that are `shut`; `more` may hold `baseline`, a comparison."""
    context = {"answer": answer, **more}
    yield "more", render("more.html", context)
    yield "gear-foot", render("subjects/weights/foot.html", context)
    for name, brief in answer.briefs.items():
        yield f"brief-{name}", _brief(brief)
        if name not in shut:
            yield from answers_of([name], context)
    for key, line in answer.lines.items():
        told, counts = _line(line)
        yield f"{key}-told", told
        yield f"{key}-counts", counts


def answers_of(subjects: Iterable[str], context: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield the place of some subjects' answers with its HTML."""
    for name in subjects:
        yield f"of-{name}", render(f"subjects/{name}/answer.html", context)


@lru_cache(maxsize=LINES_KEPT)
def _line(line: Line) -> tuple[str, str]:
    """Return what a phone shows of a line, and what it comes to."""
    return render("told.html", {"line": line}), _brief(line.counts)


@lru_cache(maxsize=LINES_KEPT)
def _brief(text: str) -> str:
    """Return a subject's answer, or a line's, in one line."""
    return render("brief.html", {"brief": text})
