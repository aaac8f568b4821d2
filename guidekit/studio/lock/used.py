"""What an issue uses of all that it may name."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import Any

from guidekit.errors import MachineError
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.issue import LoadedIssue
from guidekit.issue.layouts import Layouts
from guidekit.issue.models.part import Layout
from guidekit.issue.series import shared
from guidekit.measure import load_issue
from guidekit.preset import find_preset
from guidekit.registry import Entry
from guidekit.shipped import FullCatalogue
from guidekit.studio.lock.model import LockedFont


@dataclass(frozen=True)
class Used:
    """What an issue uses: its canvases, its preset, and all else by name."""

    issue: LoadedIssue
    plans: tuple[PagePlan, ...]
    preset: dict[str, Any]
    layouts: dict[str, dict[str, Any]]
    series: dict[str, dict[str, Any]]
    fonts: dict[str, LockedFont]
    guides: tuple[str, ...]


def used_by(path: Path, catalogue: FullCatalogue) -> Used:
    """What an issue uses of a catalogue; raises `InputError`."""
    layouts: dict[str, dict[str, Any]] = {}
    issue = load_issue(
        path, catalogue=replace(catalogue, layouts=_heard(catalogue.layouts, layouts))
    )
    plans = plan_issue(issue)
    source = find_preset(issue.preset_name, catalogue, path.parent)
    guides = {name for plan in plans for name, state in plan.guides if state != "off"}
    requested = (x.name for x in catalogue.guides.entries.values() if x.on_request)
    name, file = issue.issue.series, issue.series
    series = {name: shared(file)} if name and file else {}
    used = tuple(x for x in requested if x in guides)
    return Used(issue, plans, source.plain, layouts, series, _fonts(issue), used)


def _fonts(issue: LoadedIssue) -> dict[str, LockedFont]:
    """The fonts of labels and of printed page numbers, as the issue names them."""
    folios = issue.issue.folios
    named = ((issue.issue.label_font, issue.font), (folios and folios.font, issue.folio_font))
    return {name: _locked_font(Path(font.path)) for name, font in named if name and font}


def _locked_font(path: Path) -> LockedFont:
    try:
        digest = sha256(path.read_bytes()).hexdigest()
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    return LockedFont(file=path.name, sha256=digest)


def _heard(layouts: Layouts, used: dict[str, dict[str, Any]]) -> Layouts:
    """The same layouts; those that are used are noted with what their files say."""

    def noted(entry: Entry[Layout]) -> Layout:
        used[entry.name] = {**entry.written}
        return entry.thing

    entries = [replace(x, make=partial(noted, x)) for x in layouts.entries.values()]
    return replace(layouts, source=lambda: entries)
