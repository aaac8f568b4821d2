"""The book as plain data: the browser draws it and computes no box of its own."""

from __future__ import annotations

from typing import Any

from guidekit.errors import Problem
from guidekit.geometry.cover import cover_plans
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import APART
from guidekit.issue.folding import behind_a_turn
from guidekit.issue.models.by_side import names_sides
from guidekit.issue.order import PageEntry
from guidekit.planner.desk import Desk
from guidekit.planner.draft import Draft, problems_of_page
from guidekit.planner.picture import Data, picture_of, plain, problem_data
from guidekit.preset.guides import switched
from guidekit.units import decimal

MOST_PICTURES = 2_000  # remembered


def book_data(desk: Desk) -> Data:
    """All pages, small, in openings as they face each other, and what is wrong with the file.

    ``shapes`` are the pictures of pages, of pages alike once.
    """
    book = desk.book
    data: Data = {
        "version": book.version,
        "file": desk.path.name,
        "undo": desk.can_undo,
        "redo": desk.can_redo,
        "problems": [problem_data(problem) for problem in book.problems],
        "text": book.text if book.problems else "",
        "pages": [],
        "shapes": [],
        "openings": [],
    }
    if book.loaded:
        data |= _of_issue(book) | _pages(book, data["problems"], desk.pictures)
        data["problems"].sort(key=lambda problem: problem["line"] or 0)
    return data


def _of_issue(book: Draft) -> Data:
    assert book.loaded
    issue, preset = book.loaded.issue, book.loaded.preset
    size = preset.page_size
    return {
        "title": issue.title,
        "number": issue.number,
        "count": book.loaded.pages,
        "direction": book.loaded.direction,
        "own_direction": issue.direction or "",
        "facing": preset.facing,
        "preset": book.loaded.preset_name,
        "preset_title": preset.title,
        "caution": preset.caution,
        "size": f"{decimal(size.width.value)} × {decimal(size.height.value)} {size.width.unit}",
        "dpi": preset.dpi,
        "unit": book.unit,
        "folder": book.loaded.file_name,
        "said": said_of_issue(book),
        "covers": [
            {"name": plan.name, **_cover(plan)} for plan in cover_plans(book.loaded, book.rules)
        ],
    }


def said_of_issue(book: Draft) -> Data:
    """What an issue says of the whole book, as in its file, and how its guides are switched."""
    assert book.loaded
    values = book.loaded.file.values
    of_format = book.loaded.preset.guides
    switches = switched(of_format, book.loaded.issue.guides)
    said = {key: plain(values.get(key)) for key in ("binding", "cover", "folios", "guides")}
    return said | {"switched": dict(switches), "switched_by_format": dict(of_format)}


def _cover(plan: PagePlan) -> Data:
    """The picture of a canvas of the cover: its trim, folds, and the place of the barcode."""
    boxes = plan.boxes
    return {
        "size": list(boxes.canvas.size),
        "trim": boxes.trim.as_list(),
        "folds": boxes.folds,
        "barcode": boxes.barcode.as_list() if boxes.barcode else None,
        "panels": [],
    }


def _pages(book: Draft, problems: list[Data], known: dict[str, Data]) -> Data:
    assert book.loaded
    shapes: dict[str, int] = {}
    pictures: list[Data] = []
    pages: list[Data] = []
    seen: dict[Any, tuple[int | None, bool]] = {}
    nth: dict[Any, int] = {}
    for entry in book.loaded.entries:
        alike = (entry.key, entry.side, book.rules.taken_off(entry))
        nth[entry.key] = nth.get(entry.key, -1) + 1
        if alike not in seen:
            picture, wrong = _picture(book, entry, known)
            told = [problem_data(problem) for problem in wrong]
            problems += [problem for problem in told if problem not in problems]
            key = repr(picture)
            if key not in shapes:
                shapes[key] = len(pictures)
                pictures.append(picture)
            seen[alike] = shapes[key], bool(wrong)
        shape, is_wrong = seen[alike]
        pages.append(
            {
                "numbers": entry.numbers,
                "side": entry.side,
                "entry": entry.key[1],
                "nth": nth[entry.key],
                "alike": entry.page.count,
                "shape": shape,
                "wrong": is_wrong,
                "note": entry.page.note or "",
                **_in_book(book, entry),
                **({"by_side": True} if names_sides(book.pages[int(entry.key[1])]) else {}),
            }
        )
    return {"pages": pages, "shapes": pictures, "openings": openings(book, pages)}


def _in_book(book: Draft, entry: PageEntry) -> Data:
    """What a page is in the book; what is nothing special is left out."""
    assert book.loaded
    last, rules = entry.numbers[-1], book.rules
    printed = [rules.numbers.get(number, "") for number in entry.numbers]
    turns = book.loaded.preset.facing and last < book.loaded.pages and behind_a_turn(last + 1)
    found: Data = {
        "printed": " · ".join(printed) if any(printed) else "",
        "section": rules.sections.get(entry.numbers[0], ""),
        "turns": turns,
        "reveal": entry.page.reveal,
        "kind": entry.page.kind if entry.page.kind != "story" else "",
    }
    return {key: said for key, said in found.items() if said}


def _picture(
    book: Draft, entry: PageEntry, known: dict[str, Data]
) -> tuple[Data, tuple[Problem, ...]]:
    """The picture of a page, `known` from before or new, and what is wrong with it."""
    values = book.pages[int(entry.key[1])]
    if isinstance(values, dict):
        values = {key: said for key, said in values.items() if key not in APART}
    key = f"{entry.side} {book.rules.taken_off(entry)} {values!r} {book.beside_pages}"
    if key in known and not book.problems_at(entry):
        return known[key], ()
    sheet, wrong = problems_of_page(book, entry)
    if not sheet:
        return _bare(book, entry), wrong
    if len(known) > MOST_PICTURES:
        known.clear()
    known[key] = picture_of(sheet)
    return known[key], ()


def openings(book: Draft, pages: list[Data]) -> list[list[int]]:
    """Pages that face each other, by their places in the list, from left to right."""
    assert book.loaded
    backward = book.loaded.direction == "rtl"
    groups: list[list[int]] = []
    for i, page in enumerate(pages):
        second = len(page["numbers"]) == 1 and page["numbers"][0] % 2 == 1
        faces = book.loaded.preset.facing and second and groups and i
        if faces and len(pages[i - 1]["numbers"]) == 1 and page["numbers"][0] > 1:
            groups[-1].append(i)
        else:
            groups.append([i])
    return [group[::-1] if backward else group for group in groups]


def _bare(book: Draft, entry: PageEntry) -> Data:
    boxes = book.rules.boxes[entry.side]
    trim = boxes.trim.as_list()
    return {"size": list(boxes.canvas.size), "trim": trim, "fold": boxes.fold, "panels": []}
