"""Files of pages that move: listed before anything is done, then renamed with the issue's text."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from guidekit.errors import GuidekitError
from guidekit.planner.pages import Order
from guidekit.planner.picture import Data
from guidekit.shipped import FullCatalogue

if TYPE_CHECKING:
    from guidekit.drawn.moving.renaming import Move

Names = Sequence[tuple[str, str]]


class NotAgreedError(GuidekitError):
    """Files would get other names: `plan` says which, and is to be agreed to first."""

    def __init__(self, plan: Move):
        super().__init__("Files of pages would get other names.")
        self.plan = plan


def move_files(
    path: Path, texts: tuple[str, str], order: Order, back: Names, known: FullCatalogue, agreed: str
) -> Move | None:
    """Give an issue its new text and its files their new names; None if no file has another one.

    Then nothing is written. `texts` are the one that the file has and the new one. Raises
    `NotAgreedError` unless `agreed` is the key of this very plan, `InputError`, `MachineError` with
    the old text still in the file.
    """
    from guidekit.drawn.moving.rewriting import rewrite_issue  # few sessions move what is drawn

    shown: list[Move] = []

    def agree(plan: Move) -> bool:
        shown.append(plan)
        if plan.files and key_of(plan) != agreed:
            raise NotAgreedError(plan)
        return bool(plan.files)

    try:
        moved = rewrite_issue(path, texts, order, back=back, agree=agree, catalogue=known)
    except NotAgreedError:
        raise
    except GuidekitError as error:
        if not shown or not _has(path, texts[1]):
            raise
        moved = replace(shown[0], told=(*shown[0].told, str(error)))  # their guides are the old
    return moved if moved.files else None


def _has(path: Path, text: str) -> bool:
    try:
        return path.read_bytes().decode("utf-8-sig") == text
    except (OSError, UnicodeDecodeError):
        return False


def key_of(plan: Move) -> str:
    """A short name of this plan, and of no other."""
    return sha256(json.dumps([str(plan.folder), plan.files, plan.told]).encode()).hexdigest()[:16]


def plan_data(plan: Move) -> Data:
    """A plan as the browser shows it, or what was done."""
    refused = plan.refreshed.named("refused") if plan.refreshed else ()
    return {
        "key": key_of(plan),
        "folder": str(plan.folder.resolve()),
        "pages": plan.told,
        "files": plan.files,
        "refused": [f"{file.name}: {file.why}" for file in refused],
    }
