"""Random pages of nested panels, as an issue file holds them, and their mirror images."""

from typing import Any

from hypothesis import strategies as st

#: Gutters of at most 15 pixels at 150 dpi, some of equal width in different units.
GUTTERS = ("0 mm", "1 mm", "0.1 cm", "1/16 in", "2.5 mm", "7 px", "3 pt", "0.3 mm")
gutters = st.sampled_from(GUTTERS)
WEIGHTS = (1, 1.5, 2)


@st.composite
def letter_maps(draw: st.DrawFn) -> str:
    """A rectangle of places filled with rectangles of letters, with or without straight cuts."""
    rows, columns = draw(st.integers(1, 5)), draw(st.integers(1, 5))
    places = [[""] * columns for _ in range(rows)]
    for letter in "ABCDEFGHIJKLMNOPQRSTUVWXY":
        free = [(y, x) for y in range(rows) for x in range(columns) if not places[y][x]]
        if not free:
            break
        y, x = free[0]
        end = next((i for i in range(x, columns) if places[y][i]), columns)
        width, height = draw(st.integers(1, end - x)), draw(st.integers(1, rows - y))
        for row in places[y : y + height]:
            row[x : x + width] = [letter] * width
    return "\n".join(" ".join(row) for row in places)


@st.composite
def _shares(draw: st.DrawFn, number: int, room: int, plain: bool) -> list[Any]:
    """Weights, and unless plain at most one length or percentage that leaves the others enough."""
    shares: list[Any] = [draw(st.sampled_from(WEIGHTS)) for _ in range(number)]
    if not plain and number > 1 and draw(st.booleans()):
        length = st.integers(room // 8, room // 4).map(lambda x: f"{x} px")
        percentage = st.sampled_from(["12.5 %", "20 %", "17.3 %"])
        shares[draw(st.integers(0, number - 1))] = draw(length | percentage)
    return shares


@st.composite
def parts(draw: st.DrawFn, key: str, room: int, depth: int, plain: bool = False) -> dict[str, Any]:
    """What an entry of a list called `key` (empty for the page) holds, at least `room` px wide.

    A plain part has weights and no lengths, and the page's gutters throughout.
    """
    some = st.just(False) if plain else st.booleans()
    kinds = ["number"] * bool(key) + ["map"] + ["tiers", "columns"] * (depth > 0)
    kind = draw(st.sampled_from(kinds))
    across = key == "tiers"  # panels in a tier stand side by side
    part: dict[str, Any]
    if kind == "map":
        part = {"map": draw(letter_maps())}
        rows = part["map"].splitlines()
        for name, number in (("widths", len(rows[0].split())), ("heights", len(rows))):
            if draw(st.booleans()):
                part[name] = [draw(st.sampled_from(WEIGHTS)) for _ in range(number)]
    else:
        if kind == "number":
            number = draw(st.integers(1, 4))
            part = {"panels": number}
        else:
            number, across = draw(st.integers(1, 3)), kind == "columns"
            part = {kind: [draw(parts(kind, room // 8, depth - 1, plain)) for _ in range(number)]}
        if draw(st.booleans()):
            part["widths" if across else "heights"] = draw(_shares(number, room, plain))
        if number > 1 and draw(some):
            part["gutters"] = [draw(gutters) for _ in range(number - 1)]
    if draw(some):
        both = st.fixed_dictionaries({"across": gutters, "down": gutters})
        part["gutter"] = draw(gutters | both)
    return part


ROOM = 20_000
#: Pages of nested tiers, columns and letter maps; they fit a frame of `ROOM` pixels either way.
layouts = parts("", ROOM, 2)
#: The same with weights alone, for a frame of any size and gutters of a few pixels.
plain_pages = parts("", ROOM, 2, plain=True)


@st.composite
def joined_maps(draw: st.DrawFn) -> str:
    """A rectangle of places, grown together into letters of any shape that leave a way out."""
    rows, columns = draw(st.integers(1, 5)), draw(st.integers(1, 5))
    cells = [(y, x) for y in range(rows) for x in range(columns)]
    group = {cell: cell for cell in cells}  # to the first of the cells that a cell is joined with

    def groups() -> dict[tuple[int, int], list[tuple[int, int]]]:
        found: dict[tuple[int, int], list[tuple[int, int]]] = {}
        for cell in cells:
            found.setdefault(group[cell], []).append(cell)
        return found

    for _ in range(draw(st.integers(0, 12))):
        y, x = draw(st.sampled_from(cells))
        near = draw(st.sampled_from([(y + 1, x), (y, x + 1)]))
        if near not in group or group[near] == group[y, x]:
            continue
        one, other = groups()[group[y, x]], groups()[group[near]]
        if not _goes_round({*one, *other}, rows, columns):
            group |= dict.fromkeys(other, group[y, x])
    letters = dict(zip(dict.fromkeys(group.values()), "ABCDEFGHIJKLMNOPQRSTUVWXY", strict=False))
    dots = draw(st.sets(st.sampled_from([*letters.values()]), max_size=len(letters) - 1))
    drawn = {cell: letters[first] for cell, first in group.items()}
    drawn |= {cell: "." for cell, letter in drawn.items() if letter in dots}
    return "\n".join(" ".join(drawn[y, x] for x in range(columns)) for y in range(rows))


def _goes_round(cells: set[tuple[int, int]], rows: int, columns: int) -> bool:
    """True if from some place outside of these cells there is no way out, not across corners."""
    reached = {(y, x) for y in range(-1, rows + 1) for x in range(-1, columns + 1)} - cells
    edge = [(-1, -1)]
    while edge:
        cell = edge.pop()
        if cell in reached:
            reached.discard(cell)
            steps = [(dy, dx) for dy in (-1, 0, 1) for dx in (-1, 0, 1)]
            edge += [(cell[0] + dy, cell[1] + dx) for dy, dx in steps]
    return bool(reached)


@st.composite
def with_empty_places(draw: st.DrawFn) -> tuple[dict[str, Any], dict[str, Any]]:
    """A page with empty places, and the same page with a panel in each of them."""
    random = draw(st.randoms(use_true_random=False))

    def both(part: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
        for kind in ("tiers", "columns"):
            if kind in part:
                some = [both(inner) for inner in part[kind]]
                return part | {kind: [a for a, _ in some]}, part | {kind: [b for _, b in some]}
        if "map" in part:
            empty = {x for x in part["map"] if x.isalpha() and random.random() < 0.3}
            rows = [line.split() for line in part["map"].splitlines()]
            cells = {(y, x) for y, row in enumerate(rows) for x in range(len(row))}
            dots = {(y, x) for y, x in cells if rows[y][x] in empty}
            if _goes_round(dots, len(rows), len(rows[0])):
                return part, part
            dotted = "".join("." if x in empty else x for x in part["map"])
            return part | {"map": dotted} if dotted.strip(". \n") else part, part
        return ({"empty": True}, {"panels": 1}) if random.random() < 0.3 else (part, part)

    page = draw(layouts)
    return both(page) if "panels" not in page else (page, page)


def mirrored(part: Any, key: str = "") -> Any:
    """The same part of a list called `key` seen in a mirror: all across in the other order."""
    if isinstance(part, int):
        return part
    part = dict(part)
    if "map" in part:
        rows = [" ".join(row.split()[::-1]) for row in part["map"].splitlines()]
        part["map"] = "\n".join(rows)
    for name in ("tiers", "columns"):
        if name in part:
            inner = [mirrored(entry, name) for entry in part[name]]
            part[name] = inner[::-1] if name == "columns" else inner
    across = "columns" in part or ("panels" in part and key == "tiers")
    if "widths" in part:
        part["widths"] = part["widths"][::-1]
    if across and "gutters" in part:
        part["gutters"] = part["gutters"][::-1]
    if part.get("triangles") in OTHER_DIAGONAL:
        part["triangles"] = OTHER_DIAGONAL[part["triangles"]]
    for name in ("bend", "bends"):
        if name in part:
            part[name] = _bends_in_mirror(part[name], name == "bends", across)
    if "slants" in part:
        turned = [_opposite(slant) for slant in part["slants"]]
        part["slants"] = turned[::-1] if across else turned
    if "slant" in part:
        part["slant"] = _opposite(part["slant"])
    return part


OTHER_DIAGONAL = {"falling": "rising", "rising": "falling"}


def _bends_in_mirror(given: Any, several: bool, across: bool) -> Any:
    """Bends as a mirror shows them: upright ones off to the other side, level ones from the end."""
    if several:
        found = [_bends_in_mirror(bend, False, across) for bend in given]
        return found[::-1] if across else found
    if isinstance(given, str):
        return _opposite(given) if across else given
    if across:
        return [[along, _opposite(off)] for along, off in given]
    return [[f"{100 - int(along.split()[0])} %", off] for along, off in given[::-1]]


def _opposite(slant: str) -> str:
    return slant[1:] if slant.startswith("-") else f"-{slant}"
