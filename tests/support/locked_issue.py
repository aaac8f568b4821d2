"""An issue to be held still by its lock: what is built of it, and others who have both."""

import shutil

from support.homes import Home
from support.samples import contents

ISSUE = """title = "Cards"
preset = "house"
[[pages]]
panels = "pair"
[[pages]]
count = 2
tiers = [1]
"""
PAIR = '[pair]\nabout = "Two."\ntiers = [{tiers}]\n'
FORMATS = "psd,png,svg"


def canvases(maker: Home) -> dict[str, str]:
    """The files that a maker's build of the issue writes, without guidekit's own record."""
    run = maker.run("build", "cards.toml", "--format", FORMATS, "--out", "out", "-q")
    assert run.code == 0, run
    return {n: x for n, x in contents(maker.desk / "out").items() if not n.startswith(".")}


def colleague(maker: Home, name: str) -> Home:
    """Another maker without any studio, who has the issue and its lock."""
    other = Home(maker.folder.parent / name, maker.folder.parent / f"studio of {name}")
    other.studio.mkdir()
    other.desk.mkdir(parents=True)
    for file in ("cards.toml", "cards.lock.json"):
        shutil.copy(maker.desk / file, other.desk / file)
    return other
