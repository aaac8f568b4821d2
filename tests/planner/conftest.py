"""Issues that lie open in the planner, each in a tab of a browser."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.planning import START, Tab, opened
from support.samples import REPOSITORY


@pytest.fixture
def issue(tmp_path: Path) -> Path:
    """An issue of one page."""
    path = tmp_path / "kettle-moth.toml"
    path.write_text(START, "utf-8")
    return path


@pytest.fixture
def tab(browser: Any, issue: Path) -> Iterator[Tab]:
    """A tab with that issue."""
    with opened(browser, issue) as found:
        yield found


@pytest.fixture
def salt_road(browser: Any, tmp_path: Path) -> Iterator[Tab]:
    """A tab with the example issue, in a file of this name."""
    path = tmp_path / "salt-road.toml"
    path.write_bytes((REPOSITORY / "examples" / "salt-road.toml").read_bytes())
    with opened(browser, path) as found:
        yield found
