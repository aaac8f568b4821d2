"""A lock that is not as guidekit wrote it, or not of this issue, is refused."""

import json
import shutil
from collections.abc import Callable
from typing import Any

import pytest
from support.homes import Home
from support.locked_issue import ISSUE


def _edited(lock: dict[str, Any]) -> None:
    lock["presets"]["house"]["values"]["dpi"] = 101


def _edited_with_its_digest(lock: dict[str, Any]) -> None:
    lock["presets"]["house"]["sha256"] = "0" * 64


def _halved(lock: dict[str, Any]) -> None:
    del lock["presets"]["house"]["values"]


def _newer(lock: dict[str, Any]) -> None:
    lock["version"] = 2


def _of_another(lock: dict[str, Any]) -> None:
    lock["issue"] = "other.toml"


def _huge_number(lock: dict[str, Any]) -> None:
    lock["presets"]["house"]["values"]["dpi"] = 10**400


def _half_a_letter(lock: dict[str, Any]) -> None:
    lock["presets"]["\ud800"] = lock["presets"].pop("house")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (_half_a_letter, "this is no lock, or a part of one. Write it anew"),
        (_edited, "was changed by hand"),
        (_edited_with_its_digest, "was changed by hand"),
        (_halved, "is not whole: presets.house.values: this key is missing. Write it anew"),
        (_newer, "is of version 2, and this guidekit reads 1. Install a newer guidekit"),
        (_of_another, "was changed by hand"),
        (_huge_number, "was changed by hand"),
    ],
)
def test_a_wrong_lock(maker: Home, change: Callable[[dict[str, Any]], None], said: str) -> None:
    """A lock that was tampered with is refused with its path, and nothing is written."""
    path = maker.desk / "cards.lock.json"
    lock = json.loads(path.read_text("utf-8"))
    change(lock)
    path.write_text(json.dumps(lock), "utf-8")
    run = maker.run("build", "cards.toml", "--out", "out")
    assert (run.code, run.out) == (2, "")
    assert run.err.startswith(f"guidekit: {path.name}: ")
    assert said in run.err
    assert not (maker.desk / "out").exists()


@pytest.mark.parametrize("size", [0, 1, 100, 600])
def test_half_a_lock(maker: Home, size: int) -> None:
    """A lock of which only the beginning is there is refused, and can be written anew."""
    path = maker.desk / "cards.lock.json"
    path.write_bytes(path.read_bytes()[:size])
    run = maker.run("check", "cards.toml")
    assert (run.code, run.out) == (2, "")
    assert "Write it anew: guidekit lock cards.toml --update" in run.err
    assert maker.run("lock", "cards.toml", "--update").code == 0
    assert maker.run("check", "cards.toml").code == 0


def test_a_lock_that_leads_nowhere(maker: Home) -> None:
    """A lock that is a link to nothing is refused, and not passed over as if there were none."""
    path = maker.desk / "cards.lock.json"
    path.unlink()
    path.symlink_to("nowhere.json")
    run = maker.run("build", "cards.toml", "--out", "out")
    assert (run.code, run.out) == (2, "")
    assert run.err.startswith("guidekit: cards.lock.json: this is no lock")
    assert not (maker.desk / "out").exists()


def test_the_lock_of_another_issue(maker: Home) -> None:
    """A lock that was copied to another issue is refused."""
    maker.write("desk/other.toml", ISSUE)
    shutil.copy(maker.desk / "cards.lock.json", maker.desk / "other.lock.json")
    run = maker.run("check", "other.toml")
    assert (run.code, run.out) == (2, "")
    assert 'this lock is of another issue, "cards.toml"' in run.err
