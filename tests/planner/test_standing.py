"""What became of the pages' files, as the book shows it."""

from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw
from support.planner import SMALL_HEAD

from guidekit import build_issue
from guidekit.errors import InputError
from guidekit.planner.standing import Standing
from guidekit.shipped import shipped

TEXT = f"""\
{SMALL_HEAD}
[[pages]]
count = 3
tiers = [2, 1]
"""


def test_what_is_drawn_is_seen(tmp_path: Path) -> None:
    """A page that is drawn on has a small picture of the whole canvas, another one when it is drawn
    on again; one that is not has none.
    """
    path = tmp_path / "kettle-moth.toml"
    path.write_text(TEXT, "utf-8")
    drawn = build_issue(path, formats=["png-page"]).folder / "kettle-moth-p002-page.png"
    standing, stamps = Standing(path, shipped()), set()
    for edges in ((0.5, 0.5, 1, 1), (0, 0, 0.5, 0.5)):
        with Image.open(drawn) as image:
            picture = Image.new("RGB", image.size, "white")
        where = [part * size for part, size in zip(edges, picture.size * 2, strict=True)]
        ImageDraw.Draw(picture).rectangle(where, "black")
        picture.save(drawn)
        found = standing.look()
        assert {page: row["state"] for page, row in found.items()} == {
            1: "empty", 2: "drawn", 3: "empty",
        }  # fmt: skip
        stamps.add(found[2]["stamp"])
        small = np.asarray(Image.open(BytesIO(standing.picture(2))).convert("L"))
        height, width = small.shape
        assert width / height == pytest.approx(picture.width / picture.height, abs=0.01)
        dark = [small[height * i // 4, width * i // 4] < 60 for i in (1, 3)]
        assert dark == [edges[0] == 0, edges[0] == 0.5]
    assert len(stamps) == 2
    assert len(standing.pictures) == 1
    for page in (1, 9):
        with pytest.raises(InputError, match="nothing is drawn"):
            standing.picture(page)
