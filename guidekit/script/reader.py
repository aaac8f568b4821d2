"""What each line of a script is, in the plain shape in which scripts come.

A page begins with ``PAGE 4`` or ``PAGES 4-5 (spread)``, a panel with ``PANEL 2`` or, on pages that
have no such line, with ``2.``; in any letter case, numbers as digits or in words, something behind
them or not. ``NAME: words`` is a speech, and so is a name in capitals on a line of its own above a
line of words. All else describes.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from guidekit.issue.models.part import MOST_PANELS
from guidekit.script.fountain import ScriptLine
from guidekit.script.headings import (
    PUNCTUATION,
    HeadingWords,
    Range,
    says_spread,
    without_marks,
)
from guidekit.script.script import Remark, ScriptPage, ScriptPanel
from guidekit.script.source import beginning

_SPEECH = re.compile(r"(?:\d{1,3}[.)]\s*)?([^\W\d_][^:(]{0,40}?)\s*(?:\([^)]{0,60}\)\s*)?:\s*(.*)")
_TITLE = re.compile(r"(?:script\s+)?title\s*:\s*(.+)", re.IGNORECASE)
_NUMBERED = re.compile(
    r"(?:(\d{1,4})[.-](\d{1,3})(?!\w)|(\d{1,3})(?=[.):]|\s+[–—-]\s|$))[.):\s–—-]*(.*)"
)
MOST_MISSING = 100  # pages between two; a larger step is a slip
MOST_IN_ALL = 100_000  # panels of a script; a line may say that a page has a thousand
LONGEST_CUE = 40  # characters of a speaker's name on a line of its own


class ScriptReader:
    """Goes through the lines; what it is inside of decides what a line is."""

    def __init__(self, remarks: Sequence[Remark], headings: HeadingWords):
        self.remarks = [*remarks]
        self.headings = headings
        self.pages: list[ScriptPage] = []
        self.panels = 0  # in all
        self.title = ""
        self._section = ""
        self._speech: list[str] | None = None  # the words of the speaker whose lines come
        self._before: list[int] = []  # lines before the first page
        self._by_number = True  # panels of this page are numbers alone, as far as there are any

    def read(self, lines: Sequence[ScriptLine]) -> None:
        """All lines, in order."""
        before: str | None = ""  # the line before, None for a heading
        for at, line in enumerate(lines):
            bare = line.text.strip()
            after = lines[at + 1].text.strip() if at + 1 < len(lines) else ""
            if not bare:
                self._speech = self._speech if line.kind == "aside" else None
            elif line.kind == "cue":
                self._begin_speech(bare)
            elif self._heading(line, bare):
                before = None
                continue
            elif line.kind not in ("section", "aside"):
                self._text(line, bare, cue=_is_cue(before, bare, after))
            before = bare
        self._count_panels()
        if self._before and self.pages:
            more = len(self._before) - 1
            others = f", with {more} more" if more else ""
            self.remarks.append(Remark(self._before[0], f"stands before the first page{others}"))

    def _heading(self, line: ScriptLine, bare: str) -> bool:
        words = without_marks(bare)
        if both := self.headings.both_in(words):
            page = self.headings.page_in(both[0])
            if page and not (self.pages and page.first == self.pages[-1].number):
                self._page(line.number, page)
            words = both[1]
        if page := self.headings.page_in(words):
            self._page(line.number, page)
        elif (panel := self.headings.panel_in(words)) and self._is_panel(panel, line):
            self._by_number = False
            self._panel(line.number, panel)
        elif (found := _NUMBERED.fullmatch(words)) and self._is_next(found):
            self._speech = None
            self._add_panels(self.pages[-1], line.number, 1)
            if found[4]:
                self._text(line, found[4], cue=False)
            return True
        elif self.headings.lacks_number(words):
            self.remarks.append(
                Remark(line.number, f"a heading without a number: {beginning(words)}")
            )
        elif line.kind == "section":
            self._section = words
        elif line.kind == "heading":
            self.remarks.append(Remark(line.number, f"neither page nor panel: {beginning(words)}"))
        else:
            return False
        self._speech = None
        return True

    def _is_next(self, found: re.Match[str]) -> bool:
        """True of ``2. A door`` or ``4.2 A door`` where panels have no other headings."""
        if not (self.pages and self._by_number):
            return False
        page = self.pages[-1]
        number = int(found[2] or found[3])
        return number == len(page.panels) + 1 and int(found[1] or page.number) == page.number

    def _count_panels(self) -> None:
        """Where a page's heading counts its panels, that is compared with them, or stands in."""
        for page in self.pages:
            told, there = self.headings.panels_counted(page.heading), len(page.panels)
            if not told or told == there:
                continue
            said = f"{page.called}: {told} panels in its heading, {there or 'none'} below it"
            self.remarks.append(Remark(page.line, said))
            if not there:
                self._add_panels(page, page.line, told)

    def _add_panels(self, page: ScriptPage, line: int, count: int) -> None:
        """Panels that a line of a script begins; of more than there may be one alone is made."""
        count = min(count, MOST_PANELS + 1)
        self.panels += count
        made = count if self.panels <= MOST_IN_ALL else 1
        page.panels.extend(ScriptPanel(line) for _ in range(made))

    def _is_panel(self, found: Range, line: ScriptLine) -> bool:
        """False of a sentence that begins with a panel: ``Panel 3 is a mirror of panel 1.``"""
        behind = found.behind.lstrip()
        if not behind or behind[0] in ":.,;)(-–—[" or line.kind != "text":
            return True
        return bool(self.pages) and found.first == len(self.pages[-1].panels) + 1

    def _page(self, at: int, found: Range) -> None:
        first, last, heading = found.first, found.last, found.behind.strip(PUNCTUATION)
        if self.pages and heading.lower().startswith("cont") and first == self.pages[-1].number:
            return
        spread = last == first + 1 or (last == first and says_spread(heading))
        if last > first + 1 or last < first:
            said = f"pages {first} to {last} under one heading, of which the first is taken"
            self.remarks.append(Remark(at, said))
        expected = self.pages[-1].last + 1 if self.pages else 1
        if first < expected or first > expected + MOST_MISSING:
            said = f"page {first} comes after page {expected - 1}, and is taken as page {expected}"
            self.remarks.append(Remark(at, said))
            first = expected
        elif first > expected:
            missing = f"page {expected} is"
            if first > expected + 1:
                missing = f"pages {expected} to {first - 1} are"
            self.remarks.append(Remark(at, f"{missing} not in the script, and left blank"))
        self.pages.append(ScriptPage(first, at, spread, heading, self._section))
        self._section = ""
        self._by_number = True

    def _panel(self, at: int, found: Range) -> None:
        if not self.pages:
            self.remarks.append(Remark(at, "a panel before the first page"))
            return
        panels, (first, last, behind) = self.pages[-1].panels, found
        if first != len(panels) + 1:
            said = f"panel {first} where panel {len(panels) + 1} is expected"
            self.remarks.append(Remark(at, said))
        self._add_panels(self.pages[-1], at, max(1, last - first + 1))
        if behind := behind.strip(PUNCTUATION):
            panels[-1].description.append(behind)

    def _text(self, line: ScriptLine, bare: str, cue: bool) -> None:
        if not self.pages:
            if found := _TITLE.fullmatch(bare):
                self.title = found[1].strip()
            else:
                self._before.append(line.number)
            return
        found = _SPEECH.fullmatch(bare)
        if found and found[1].upper() == found[1] and self.pages[-1].panels:
            self._begin_speech(found[1], found[2])
        elif self._speech is not None:
            if not (bare.startswith("(") and bare.endswith(")")):
                self._speech.append(bare)
        elif cue:
            self._begin_speech(re.sub(r"\s*\(.*", "", bare).rstrip("^ "))
        else:
            self._described(bare)

    def _begin_speech(self, who: str, words: str = "") -> None:
        if not self.pages or not self.pages[-1].panels:
            self._described(f"{who}: {words}".strip(": ")) if self.pages else None
            return
        self._speech = [words] if words else []
        self.pages[-1].panels[-1].speeches.append((who.strip(), self._speech))

    def _described(self, text: str) -> None:
        page = self.pages[-1]
        (page.panels[-1] if page.panels else page).description.append(text)


def _is_cue(before: str | None, line: str, after: str) -> bool:
    """True of a name in capitals above a line of words.

    Right below a heading (None) or words it ends in no punctuation, and below words neither those
    nor what comes are all in capitals, as descriptions may be.
    """
    if not after or line.upper() != line or len(line) > LONGEST_CUE or not line[0].isalpha():
        return False
    if before == "":
        return True
    if line[-1] in ".,:;!?…" or _SPEECH.fullmatch(after):
        return False
    return before is None or (
        before.upper() != before and (after.upper() != after or after[0] == "(")
    )
