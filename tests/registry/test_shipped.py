"""What comes with guidekit: the catalogue, and the rows of it that are kept for lists."""

import json
from collections.abc import Callable, Iterator
from dataclasses import FrozenInstanceError
from pathlib import Path
from shutil import copytree

import pytest
from support.samples import run_here

from guidekit.listing import folder_digest, rows_of, shipped_rows, text_to_keep
from guidekit.registry import Registry
from guidekit.shipped import shipped, shipped_folder

KINDS = ("presets", "layouts", "guides", "writers")


@pytest.mark.parametrize("kind", KINDS)
def test_everything_can_be_used(kind: str) -> None:
    """Each thing of the catalogue is there, is the house's own, and is the same at each look-up."""
    registry: Registry[object] = getattr(shipped(), kind)
    assert len(registry) >= 10
    for name, entry in registry.entries.items():
        assert entry.owner.startswith("guidekit")
        assert registry.find(name) is entry.thing


@pytest.mark.parametrize("name", shipped().writers)
def test_writers_say_what_they_are(name: str) -> None:
    """A writer has the name by which it is found, and a line for people; each is made anew."""
    make = shipped().writers.find(name)
    assert make().name == name
    assert shipped().writers.entries[name].about
    assert make() is not make()


def test_the_catalogue_cannot_be_changed() -> None:
    """The catalogue is a value."""
    with pytest.raises(FrozenInstanceError):
        shipped().layouts = None  # type: ignore[misc, assignment]
    assert shipped() is shipped()


def test_rows_are_kept_up() -> None:
    """The rows that lists show are those of the files that are there.

    Where this fails, ``python tests/support/keep_rows.py`` makes them anew.
    """
    kept = (shipped_folder() / "listed.json").read_text("utf-8")
    assert kept == text_to_keep(shipped_folder(), shipped())
    rows = rows_of(shipped())
    assert {row["name"] for row in rows["presets"]} == {*shipped().presets}
    assert {row["name"] for row in rows["layouts"]} == {*shipped().layouts}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A copy of all that comes with guidekit, in use in place of it."""
    copied = copytree(shipped_folder(), tmp_path / "presets")
    shipped.cache_clear()
    monkeypatch.setattr("guidekit.shipped.shipped_folder", lambda: copied)
    monkeypatch.setattr("guidekit.listing.shipped_folder", lambda: copied)
    yield copied
    shipped.cache_clear()


def _other_title(folder: Path) -> None:
    path = folder / "us-comic.toml"
    path.write_text(path.read_text("utf-8").replace("US comic book", "Another book"), "utf-8")


def _new_layout(folder: Path) -> None:
    (folder / "layouts" / "mine.toml").write_text('[mine]\ntiers = [9]\nabout = "Nine."\n')


def _no_rows(folder: Path) -> None:
    (folder / "listed.json").unlink()


@pytest.mark.parametrize("change", [_other_title, _new_layout, _no_rows])
def test_a_changed_file_is_read_again(folder: Path, change: Callable[[Path], None]) -> None:
    """As soon as a file differs from what the rows were made of, or is new, all are made anew."""
    before = shipped_rows()
    change(folder)
    after = shipped_rows()
    assert after == rows_of(shipped())
    assert (after["presets"] == before["presets"]) == (change is not _other_title)
    assert (after["layouts"] == before["layouts"]) == (change is not _new_layout)


@pytest.mark.parametrize(
    ("command", "file", "text"),
    [
        ("presets", "us-comic.toml", 'bleed = "1 furlong"\n'),
        ("layouts", "layouts/grids.toml", "[broken]\ntiers = [0]\n"),
    ],
)
def test_nothing_broken_is_listed(folder: Path, command: str, file: str, text: str) -> None:
    """A preset or layout that has become wrong is told, and not listed as if it were fine."""
    assert run_here(command, "list").code == 0
    path = folder / file
    path.write_text(text + path.read_text("utf-8").replace("\nbleed =", "\n#"), "utf-8")
    run = run_here(command, "list")
    assert (run.code, run.out) == (2, "")
    assert path.name in run.err


def test_kept_rows_are_used(folder: Path) -> None:
    """What the lists show is what is kept, as long as every byte is the same."""
    path = folder / "listed.json"
    kept = json.loads(path.read_text("utf-8"))
    kept["presets"][0]["title"] = "As it is kept"
    path.write_text(json.dumps(kept), "utf-8")
    assert "As it is kept" in run_here("presets", "list").out
    assert kept["sha256"] == folder_digest(folder)
