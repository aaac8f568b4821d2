"""The issue as one HTML file: every page small, its measures on pointing, no network needed.

The look and what moves are in ``page.html``, ``page.css`` and ``page.js`` beside this file.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from importlib.resources import files
from string import Template

from guidekit.issue import LoadedIssue
from guidekit.overview.openings import Opening, View
from guidekit.overview.web.measures import measures
from guidekit.overview.web.page_svg import page_svg
from guidekit.overview.words import about, title_of
from guidekit.writers.metadata import xml_text
from guidekit.writers.paths import number
from guidekit.writers.svg.xml import element, words

HEIGHT, WIDTH = 15, 5  # em: a page at its usual size is as tall, or as wide if that is more


def html_of(file: LoadedIssue, openings: Sequence[Opening], cautions: Sequence[str]) -> str:
    """The whole file as text."""
    book = _Book(openings)
    shown = "\n".join(book.openings())
    parts = {
        "title": words(title_of(file)),
        "style": _beside("page.css"),
        "script": _beside("page.js"),
        "about": "".join(f"<p>{words(line)}</p>" for line in about(file, openings)),
        "classes": f"book {file.direction}",
        "openings": shown,
        "cautions": _cautions(cautions),
        "measures": _harmless(json.dumps(book.measures, ensure_ascii=False)),
    }
    return Template(_beside("page.html")).substitute(parts)


class _Book:
    """The openings as they are written; `measures` gathers texts, of pages alike once."""

    def __init__(self, openings: Sequence[Opening]):
        self._openings = openings
        self._known: dict[str, int] = {}
        views = [view for opening in openings for view in opening.views]
        first = next((view for view in views if view.plan.numbers), views[0])
        self._unit = min(first.seen.height / HEIGHT, first.seen.width / WIDTH)
        self._width = first.seen.width

    @property
    def measures(self) -> list[str]:
        """Every text once."""
        return [*self._known]

    def openings(self) -> Iterator[str]:
        """List items, with headings where sections begin."""
        for opening in self._openings:
            if opening.section:
                yield element("li", element("h2", words(opening.section)), **{"class": "section"})
            pages = [self._page(view) if view else self._none() for view in opening.places]
            yield element("li", "".join(pages), **{"class": "opening"})

    def _none(self) -> str:
        """Room where a page would be."""
        width = number(self._width / self._unit, 3)
        return f'<span class="none" style="width: {width}em"></span>'

    def _page(self, view: View) -> str:
        text = "\n".join(measures(view.plan))
        name = name_of(view)
        drawn = " drawn" if view.thumbnail else ""
        return element(
            "button",
            page_svg(view, self._unit) + _caption(view) + _unseen(name),
            **{"class": f"page{' turned' if view.turned else ''}{drawn}"},
            type="button",
            aria_pressed="false",
            data_name=name,
            data_measures=self._known.setdefault(text, len(self._known)),
        )


def name_of(view: View) -> str:
    """A page for those who do not see it: ``Page 4, left: 6 panels. Note: The well``."""
    plan = view.plan
    side = f", {plan.side}" if plan.side in ("left", "right") and plan.numbers else ""
    count = len(plan.panels)
    inside = f"{count} panel{'' if count == 1 else 's'}" if plan.panels else "no panels"
    if plan.kind != "story":
        inside = f"{plan.kind}, {inside}"
    more = [
        f"Printed number {' and '.join(folio.words for folio in plan.folios)}."
        if plan.folios
        else "",
        "Behind a page turn." if view.turned else "",
        "To be a reveal." if plan.reveal else "",
        f"State: {view.state}." if view.state else "",
        f"Note: {plan.note}." if plan.note else "",
        *view.cautions,
    ]
    return " ".join([f"{plan.called.capitalize()}{side}: {inside}.", *filter(None, more)])


def _caption(view: View) -> str:
    plan = view.plan
    lines = [element("span", words(view.label))]
    if plan.kind != "story":
        lines.append(element("span", plan.kind, **{"class": "state"}))
    if plan.reveal:
        lines.append(element("span", "reveal", **{"class": "mark"}))
    if plan.note:
        lines.append(element("span", words(plan.note), **{"class": "note"}))
    if view.state:
        lines.append(element("span", words(view.state), **{"class": "state"}))
    if view.cautions:
        lines.append(element("span", "caution", **{"class": "mark"}))
    return element("span", "".join(lines), aria_hidden="true", **{"class": "caption"})


def _unseen(name: str) -> str:
    """All that the caption says and more, for a screen reader."""
    return element("span", words(name), **{"class": "unseen"})


def _cautions(cautions: Sequence[str]) -> str:
    if not cautions:
        return ""
    items = "\n".join(element("li", words(said)) for said in cautions)
    listed = f'<ul class="cautions">\n{items}\n</ul>'
    return f'<section aria-labelledby="said">\n<h2 id="said">Cautions</h2>\n{listed}\n</section>'


def _beside(name: str) -> str:
    return files("guidekit.overview.web").joinpath(name).read_text("utf-8")


def _harmless(text: str) -> str:
    """JSON in a script element, which nothing in it may end (HTML, section 4.12.1.3)."""
    return xml_text(text).replace("<", "\\u003c")
