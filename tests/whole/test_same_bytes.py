"""Same input, same bytes: whatever the clock, the place, the language and the order of work."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from support.books_under_test import BARE, COMIC, COVER, MANUSCRIPT
from support.catalogue import FORMATS
from support.long import shortened
from support.samples import RECORD, REPOSITORY

from guidekit import build_issue

BOOKS = {"comic": COMIC, "manuscript": MANUSCRIPT, "covered": COVER, "folded": BARE}
#: Builds the issues that it is given into folders of their names.
BUILD_ALL = """
import sys
from pathlib import Path
from guidekit import build_issue
formats, *paths = sys.argv[1:]
for path in paths:
    build_issue(path, Path(path).stem, formats=formats.split(","), dpi=100)
"""
SURROUNDINGS = [
    {"TZ": "Pacific/Kiritimati", "LANG": "ja_JP.UTF-8", "PYTHONHASHSEED": "1"},
    {
        "TZ": "America/St_Johns",
        "LC_ALL": "C",
        "PYTHONHASHSEED": "4294967295",
        "HOME": "/",
        "SOURCE_DATE_EPOCH": "abc",
    },
    {
        "TZ": "UTC",
        "LC_ALL": "tr_TR.UTF-8",
        "PYTHONHASHSEED": "random",
        "PYTHONOPTIMIZE": "2",
        "SOURCE_DATE_EPOCH": "86400",
    },
]


def files(folder: Path) -> dict[str, bytes]:
    """Every file below a folder by its path; of the record what does not hang on where it lies.

    Left out are the way to the issue's file, and what the last build told.
    """
    found = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }
    record = json.loads(found[RECORD])
    entries = {name: entry | {"issue": ""} for name, entry in record["files"].items()}
    return found | {RECORD: json.dumps(entries).encode()}


@pytest.fixture(scope="module")
def issues(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The text files of the issues."""
    folder = tmp_path_factory.mktemp("issues")
    for name, toml in BOOKS.items():
        (folder / f"{name}.toml").write_text(toml, "utf-8")
    return {name: folder / f"{name}.toml" for name in BOOKS}


@pytest.fixture(scope="module")
def here(
    issues: dict[str, Path], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, dict[str, bytes]]:
    """Every issue in every format, built in this process."""
    result = {}
    for name, path in issues.items():
        out = tmp_path_factory.mktemp("here") / "out"
        build_issue(path, out, formats=[*FORMATS], dpi=100)
        result[name] = files(out)
        assert len(result[name]) > len(FORMATS)
    return result


@pytest.mark.parametrize(
    "surroundings", shortened(SURROUNDINGS, SURROUNDINGS[1:2]), ids=lambda s: s["TZ"]
)
def test_other_surroundings(
    here: dict[str, dict[str, bytes]],
    issues: dict[str, Path],
    tmp_path: Path,
    surroundings: dict[str, Any],
) -> None:
    """Another time zone, language and hash seed give the same files, to the byte."""
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("LC_", "LANG"))}
    subprocess.run(
        [sys.executable, "-c", BUILD_ALL, ",".join(FORMATS), *issues.values()],
        env=kept | {"PYTHONPATH": str(REPOSITORY)} | surroundings,
        cwd=tmp_path,
        check=True,
        capture_output=True,
    )
    for name in issues:
        assert files(tmp_path / name) == here[name]


@pytest.mark.parametrize("name", BOOKS)
def test_again(
    here: dict[str, dict[str, bytes]], issues: dict[str, Path], tmp_path: Path, name: str
) -> None:
    """A second build in the same process, with everything it remembers, gives the same files."""
    build_issue(issues[name], tmp_path, formats=[*FORMATS][::-1], dpi=100)
    assert files(tmp_path) == here[name]


def test_page_by_page(
    here: dict[str, dict[str, bytes]], issues: dict[str, Path], tmp_path: Path
) -> None:
    """A page built alone, after those that follow it, has the bytes it has in the whole issue."""
    for number in (4, 2, 1):
        build_issue(issues["comic"], tmp_path, formats=[*FORMATS], pages=[number], dpi=100)
    assert files(tmp_path) == here["comic"]


def test_another_folder(here: dict[str, dict[str, bytes]], tmp_path: Path) -> None:
    """The issue's own folder and file name leave no trace."""
    path = tmp_path / "deeper" / "Issue no. 7.toml"
    path.parent.mkdir()
    path.write_text(BOOKS["comic"], "utf-8")
    build_issue(path, tmp_path / "out", formats=[*FORMATS], dpi=100)
    assert files(tmp_path / "out") == here["comic"]


@pytest.mark.parametrize(
    "trace", [b"site-packages", b"/tmp", b"psd-tools", b"psd_tools", b"Pillow"]
)
def test_no_traces(here: dict[str, dict[str, bytes]], trace: bytes) -> None:
    """No file names a folder of this machine or the libraries that helped to write it."""
    assert not [name for book in here.values() for name, data in book.items() if trace in data]
