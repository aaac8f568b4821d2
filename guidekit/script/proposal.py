"""From a script to the text of an issue: pages, panels, notes; remarks on what will be tight."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass

from guidekit.script.reading import with_panels
from guidekit.script.room import room_for, tight
from guidekit.script.script import Remark, Script, ScriptPage, ScriptPanel
from guidekit.script.tiers import fitting_tiers, shares_of

NOTE = 60  # characters of a note for the page label


@dataclass(frozen=True)
class Proposal:
    """The ``[[pages]]`` of an issue, how many pages they are, and what to know about them."""

    text: str
    pages: int
    remarks: tuple[Remark, ...]


def proposed(script: Script, *, facing: bool = True, scroll: bool = False) -> Proposal:
    """The pages that a script asks for.

    `facing` says whether spreads are possible at all, `scroll` that pages are scrolls.
    """
    remarks: list[Remark] = [*script.remarks]
    entries: list[str] = []
    number = 1
    for page in script.pages:
        if missing := page.number - number:
            entries += [] if scroll else [_entry(missing, ['kind = "blank"'])]
            number = page.number
        for part in _parts(page, facing, remarks):
            entries.append(_entry(1, [*(_scroll(part) if scroll else _lines(part))]))
            remarks += [] if scroll else _tight(part)
        number = page.last + 1
    remarks.sort(key=lambda remark: remark.line or 0)
    return Proposal("".join(entries), number - 1, tuple(remarks))


def _parts(page: ScriptPage, facing: bool, remarks: list[Remark]) -> Iterator[ScriptPage]:
    """A page, or two pages where the script has a spread that cannot be one."""
    page = with_panels(page)
    if not page.spread or (facing and page.number % 2 == 0):
        yield page
        return
    why = "do not face each other" if facing else "have no facing pages in this format"
    remarks.append(Remark(page.line, f"{page.called} {why}, and are two single pages"))
    half = (len(page.panels) + 1) // 2
    for number, panels in ((page.number, page.panels[:half]), (page.last, page.panels[half:])):
        empty = [ScriptPanel(page.line)]
        section = page.section if number == page.number else ""
        yield ScriptPage(
            number, page.line, False, page.heading, section, page.description, panels or empty
        )


def _lines(page: ScriptPage) -> Iterator[str]:
    if page.spread:
        yield "spread = true"
    if page.section:
        yield f"section = {_quoted(page.section[:NOTE])}"
    if len(page.panels) == 1:
        yield "panels = 1" if page.spread else 'panels = "splash"'
    else:
        yield f"tiers = {[*fitting_tiers([panel.words for panel in page.panels])]}"
    if "reveal" in page.heading.lower():
        yield "reveal = true"
    if note := _note(page):
        yield f"note = {_quoted(note)}"


def _scroll(page: ScriptPage) -> Iterator[str]:
    """A page as a scroll, its panels one below the other."""
    yield "scroll = ["
    for number in range(len(page.panels)):
        gap = ', gap = "scene"' if not number else ""
        yield f'  {{ ratio = "4:3"{gap} }},'
    yield "]"


def _entry(count: int, lines: list[str]) -> str:
    alike = [f"count = {count}"] if count > 1 else []
    return "\n".join(["", "[[pages]]", *alike, *lines, ""])


def _note(page: ScriptPage) -> str:
    """The first words of what the page says of itself, else of its first panel."""
    first = page.panels[0].description if page.panels else []
    words = " ".join([*page.description, *first][0].split()) if page.description or first else ""
    words = "".join(letter for letter in words if letter.isprintable())
    return words if len(words) <= NOTE else f"{words[: NOTE - 1].rsplit(' ', 1)[0]}…"


def _tight(page: ScriptPage) -> Iterator[Remark]:
    """Panels with more words than go well into them, by the rule of `script.room`."""
    pages = 2 if page.spread else 1
    words = [panel.words for panel in page.panels]
    shares = shares_of(fitting_tiers(words))
    for number, (panel, share) in enumerate(zip(page.panels, shares, strict=True), 1):
        if tight(panel.words, share * pages):
            said = f"{panel.words} words, and there is room for about {room_for(share * pages)}"
            yield Remark(panel.line, f"{page.called}, panel {number}: {said}")


def _quoted(text: str) -> str:
    """A TOML basic string; TOML shares JSON's escapes."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
