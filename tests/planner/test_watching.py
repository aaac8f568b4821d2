"""The file of an issue is watched, also where its folder is taken away and another comes back."""

import asyncio
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from support.browser import barriers
from support.long import long
from support.planning import START, opened, save
from support.programs import HANG

from guidekit.planner import watching
from guidekit.planner.server import Planner
from guidekit.studio.catalogue import studio

EDITED = START.replace("splash", "six-grid")


def remove(folder: Path) -> None:
    """Take a folder away for good."""
    shutil.rmtree(folder)


def rename(folder: Path) -> None:
    """Move a folder elsewhere, where the system still follows it."""
    folder.rename(folder.with_name("elsewhere"))


def put(folder: Path, text: str) -> None:
    """Put a folder with an issue of this text there, in one step."""
    new = folder.with_name("new")
    new.mkdir()
    (new / "kettle-moth.toml").write_text(text, "utf-8")
    new.rename(folder)


@pytest.mark.parametrize("take", [remove, rename])
def test_a_folder_that_goes_and_comes_back(
    take: Callable[[Path], None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Tabs are told in a sentence that the file is gone, and that it is there again; what is
    changed in it then is heard as before.
    """
    monkeypatch.setattr(watching, "BETWEEN", 0.05)
    folder = tmp_path / "moths"
    put(folder, START)
    issue = folder / "kettle-moth.toml"
    planner = Planner(issue, studio(issue))

    async def heard() -> list[dict[str, Any]]:
        events: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
        planner.tabs.open.add(events)
        watch, found = asyncio.create_task(planner.watch()), []
        for act, *given in ((take, folder), (put, folder, START), (save, issue, EDITED)):
            act(*given)
            found.append(await asyncio.wait_for(events.get(), HANG))
        watch.cancel()
        return found

    before = planner.desk.book.version
    gone, back, edited = asyncio.run(heard())
    assert [one["version"] == before for one in (gone, back, edited)] == [True, True, False]
    assert "there is no such file" in gone["trouble"]
    assert (back["trouble"], edited["trouble"]) == ("", "")
    assert planner.desk.book.text == EDITED


@long
def test_a_tab_whose_folder_goes_and_comes_back(browser: Any, tmp_path: Path) -> None:
    """A tab says what is wrong for as long as it is, one that is opened then too; then that all is
    well, and goes on.
    """
    folder = tmp_path / "moths"
    put(folder, START)
    issue = folder / "kettle-moth.toml"
    with opened(browser, issue) as tab:
        wrong = tab.page.get_by_role("alert").get_by_text("put the file back")
        rename(folder)
        wrong.wait_for()
        tab.page.reload()
        wrong.wait_for()
        assert barriers(tab.page) == []
        put(folder, START)
        tab.page.get_by_text("The file is there again").wait_for()
        assert not wrong.count()
        tab.save(issue, EDITED)
        tab.click("Undo")
    assert issue.read_text("utf-8") == START
