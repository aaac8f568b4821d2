"""What the files of an issue are called, without suffix: ``salt-road-02-p004``."""

from __future__ import annotations

from unicodedata import category

from guidekit.issue.models.issue import Issue


def issue_file_name(issue: Issue) -> str:
    """The beginning of every file name: ``salt-road-02``.

    Letters and digits of any script stay. A leading article is left out, as library catalogues
    file titles (common practice, no source).
    """
    text = (issue.file_name or issue.title).lower()
    kept = (c if category(c)[0] in "LNM" else " " for c in text)  # letters, digits, their marks
    words = "".join(kept).split()
    if not issue.file_name and len(words) > 1 and words[0] in ("the", "a", "an"):
        words = words[1:]
    name = _short("-".join(words) or "issue")
    return name if issue.number is None else f"{name}-{issue.number:02}"


def page_file_name(issue_name: str, numbers: tuple[int, ...], part: int | None = None) -> str:
    """The file name of one canvas without its suffix.

    ``salt-road-02-p004`` of a page, ``…-p004-005`` of a spread, ``…-p004-1`` of the first `part` of
    a page that takes several canvases.
    """
    words = [f"{number:03}" for number in numbers]
    words += [] if part is None else [str(part)]
    return f"{issue_name}-p{'-'.join(words)}"


def is_page_of(issue_name: str, file_name: str) -> bool:
    """True for a name, without its suffix, that `page_file_name` gives some page of this issue."""
    words = file_name.removeprefix(f"{issue_name}-p")
    return words != file_name and all(word.isdecimal() for word in words.split("-"))


def cover_file_name(issue_name: str, name: str) -> str:
    """The file name of a canvas of the cover: ``salt-road-02-cover``, ``…-cover-inside-front``."""
    words = [word for word in name.split() if word != "cover"]
    return "-".join([issue_name, "cover", *words])


def _short(name: str, most: int = 120) -> str:
    """Cut so that the file name stays below the 255 bytes that file systems allow."""
    return name.encode()[:most].decode(errors="ignore").rstrip("-")
