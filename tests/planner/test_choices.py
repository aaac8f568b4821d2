"""What there is to choose from in the planner: also what makers, studios and issues bring."""

import os
from pathlib import Path
from unittest.mock import patch

import pytest
from support.homes import CARDS, TWO, Home, home, house, written

from guidekit.planner.changes import read_change
from guidekit.planner.choices import choices_data
from guidekit.planner.desk import text_after
from guidekit.planner.draft import read_book
from guidekit.planner.page_view import shelf_data
from guidekit.planner.picture import Data
from guidekit.studio.catalogue import Studio, studio

OWN_LAYOUT = "[layouts.three]\ntiers = [1, 1, 1]\n"


@pytest.fixture
def maker(tmp_path: Path) -> Home:
    """A maker with presets and layouts in every place; one of each is wrong."""
    found = home(tmp_path)
    written(found.studio / "house.toml", house("Of the studio"))
    written(found.studio / "wrong.toml", "title = 3\n")
    written(found.studio / "layouts" / "pairs.toml", TWO.format(about="A pair", tiers="1, 1"))
    written(found.studio / "layouts" / "wrong.toml", "[torn]\ntiers = 3\n")
    written(found.own / "mine.toml", house("Mine"))
    found.write("desk/near.toml", house("Near the issue"))
    found.write("desk/cards.toml", f"{CARDS}{OWN_LAYOUT}")
    return found


def seen_from(maker: Home) -> Studio:
    """What there is to name from the maker's issue."""
    places = {
        "XDG_CONFIG_HOME": str(maker.folder / "config"),
        "XDG_DATA_HOME": str(maker.folder / "data"),
        "GUIDEKIT_STUDIO": str(maker.studio),
    }
    with patch.dict(os.environ, places):
        return studio(maker.desk / "cards.toml")


def test_presets_of_every_place_are_there(maker: Home) -> None:
    """Each preset that the list of the command line has can be chosen, and says where it is from;
    one that is wrong says why.
    """
    rows: dict[str, Data] = {row["name"]: row for row in choices_data(seen_from(maker))["presets"]}
    told = {name: (rows[name]["title"], rows[name]["from"]) for name in ("house", "mine", "near")}
    assert told == {
        "house": ("Of the studio", f"studio {maker.studio}"),
        "mine": ("Mine", "your folder"),
        "near": ("Near the issue", "beside the issue"),
    }
    assert rows["us-comic"]["from"] == ""
    assert "title: 3 is not" in rows["wrong"]["problem"]
    assert "cards" not in rows


def test_layouts_of_every_place_are_on_the_shelf(maker: Home) -> None:
    """Layouts of the studio and of the issue itself lie on the shelf with where they are from, and
    can be taken; one that is wrong keeps no other away.
    """
    path, known = maker.desk / "cards.toml", seen_from(maker).catalogue
    book = read_book(path, path.read_text("utf-8"), known)
    rows: dict[str, Data] = {row["name"]: row for row in shelf_data(book, 0, None)}
    brought = {name: row["from"] for name, row in rows.items() if row["from"]}
    assert brought == {"two": f"studio {maker.studio}, pairs.toml", "three": "cards.toml"}
    change = read_change({"do": "layout", "page": 0, "name": "three"})
    after = read_book(path, text_after(book, change), known)
    assert len(after.sheet(0).boxes) == 3
