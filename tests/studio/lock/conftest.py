"""A maker whose issue has its lock."""

from pathlib import Path

import pytest
from support.homes import Home, home, house, stocked
from support.locked_issue import ISSUE, PAIR


@pytest.fixture
def maker(tmp_path: Path) -> Home:
    """A maker with a studio, an issue and its lock."""
    maker = home(tmp_path)
    stocked(maker.studio, house("Base"), PAIR.format(tiers="1, 1"))
    maker.write("desk/cards.toml", ISSUE)
    assert maker.run("lock", "cards.toml").code == 0
    return maker
