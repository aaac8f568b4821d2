"""What a script holds."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

#: Speakers whose words are drawn and not lettered (common practice, no source).
SOUNDS = {"SFX", "FX", "SOUND", "SOUND EFFECT"}


@dataclass(frozen=True)
class Remark:
    """Something to know about a line of the script, counted from 1; None where there is none."""

    line: int | None
    said: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.said}" if self.line else self.said


@dataclass
class ScriptPanel:
    """A panel: the line on which it begins, its description, and its speeches."""

    line: int
    description: list[str] = field(default_factory=list)
    speeches: list[tuple[str, list[str]]] = field(default_factory=list)

    @property
    def words(self) -> int:
        """How many words are to be lettered; those of sound effects are drawn."""
        texts = (text for who, texts in self.speeches if who not in SOUNDS for text in texts)
        return sum(len(text.split()) for text in texts)


@dataclass
class ScriptPage:
    """A page, or two that are a spread: its number in the script, its line, its panels.

    `heading` is what stands behind the number, `description` what stands before the first panel.
    """

    number: int
    line: int
    spread: bool = False
    heading: str = ""
    section: str = ""
    description: list[str] = field(default_factory=list)
    panels: list[ScriptPanel] = field(default_factory=list)

    @property
    def last(self) -> int:
        """The number of its last page."""
        return self.number + 1 if self.spread else self.number

    @property
    def called(self) -> str:
        """``page 4`` or ``pages 4 and 5``."""
        return f"pages {self.number} and {self.last}" if self.spread else f"page {self.number}"


@dataclass(frozen=True)
class Script:
    """A script as it was read; `title` is empty where it names none."""

    path: Path
    title: str
    pages: tuple[ScriptPage, ...]
    remarks: tuple[Remark, ...]
