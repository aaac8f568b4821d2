"""Packs: page formats and layouts that a studio hands on, one file each."""

import json
import shutil
import struct
import sys
from pathlib import Path
from subprocess import Popen

import pytest
from support.homes import Home, home, house, stocked, written
from support.samples import contents, environment
from support.small_builds import killed

from guidekit.studio.pack_file.archive import Pack, pack_bytes, read_pack
from guidekit.studio.packs.kept import pack_path, packs_of, put_pack

TRIO = '[trio]\nabout = "Three."\ntiers = [1, "wide"]\n\n[wide]\nabout = "Two."\ncolumns = [1, 1]\n'
ISSUE = 'title = "Cards"\npreset = "house"\n[[pages]]\npanels = "trio"\n'


@pytest.fixture
def maker(tmp_path: Path) -> Home:
    """A maker with a preset based on another, and two layouts."""
    maker = home(tmp_path)
    stocked(maker.own, f'{house("Base")}[start]\nothers = "trio"\n', TRIO)
    return maker


def packed(maker: Home, version: str = "1") -> Path:
    """The pack of this maker's preset, on the desk."""
    out = maker.desk / f"studio {version}" / "studio.zip"
    more = ("--version", version, "--author", "The Inker", "--licence", "CC BY 4.0")
    run = maker.run("presets", "pack", "house", "--out", out, *more)
    assert (run.code, run.err) == (0, ""), run
    return out


def friend(maker: Home) -> Home:
    """Another maker, who has nothing."""
    return Home(maker.folder.parent / "friend", maker.studio)


def test_what_is_in_it(maker: Home) -> None:
    """A pack has the preset, what it is based on, the layouts that it begins with, and pictures."""
    pack = read_pack(packed(maker))
    assert {*pack.files} == {
        "base.toml", "house.toml", "layouts/trio.toml", "layouts/wide.toml",
        "pictures/house.png", "pictures/layouts/trio.png", "pictures/layouts/wide.png",
    }  # fmt: skip
    assert pack.files["house.toml"] == (maker.own / "house.toml").read_bytes()
    assert (pack.card.name, pack.card.author) == ("studio", "The Inker")
    assert all(x[:8] == b"\x89PNG\r\n\x1a\n" for n, x in pack.files.items() if "pictures" in n)
    again = maker.run("presets", "pack", "house", "--out", "studio.zip").out
    assert "house.toml" in again


def test_two_machines(maker: Home) -> None:
    """Who adds the pack builds the same bytes as who made it; the lists say where it is from."""
    other = friend(maker)
    run = other.run("presets", "add", packed(maker), "--yes")
    assert (run.code, run.err) == (0, "")
    assert "  preset house: new\n" in run.out
    assert "  licence: CC BY 4.0\n" in run.out
    for one in (maker, other):
        one.write("desk/cards.toml", ISSUE)
        assert one.run("build", "cards.toml", "--format", "psd,png", "--out", "out").code == 0
    first, second = (contents(one.desk / "out") for one in (maker, other))
    assert first == second
    rows = json.loads(other.run("presets", "list", "--json").out)["presets"]
    assert {row["name"]: row["from"] for row in rows}["house"] == "your folder, pack studio"
    assert "trio" in other.run("layouts", "list", "--panels", "3").out


def test_what_would_change(maker: Home) -> None:
    """A newer version says in words of the trade what it changes; the same changes nothing."""
    other = friend(maker)
    pack = packed(maker)
    assert other.run("presets", "add", pack, "--yes").code == 0
    base = maker.own / "base.toml"
    base.write_text(base.read_text("utf-8").replace('"8 px"', '"9 px"'), "utf-8")
    written(maker.own / "layouts" / "ours.toml", TRIO.replace("[1, 1]", "[1, 1, 1]"))
    newer = packed(maker, "2")
    before = contents(other.own)
    asked = other.run("presets", "add", newer)
    assert (asked.code, contents(other.own)) == (2, before)
    assert "nobody is there to be asked. Say --yes to go on. Nothing was changed." in asked.err
    assert asked.out.splitlines()[0].endswith("studio 2, in place of 1")
    assert "  preset house: gutter across 8 px → 9 px; gutter down 8 px → 9 px" in asked.out
    assert "  layout wide: columns [1, 1] → [1, 1, 1]" in asked.out
    assert "  layout trio: as it is" in asked.out
    told = other.run("presets", "diff", pack, newer).out.splitlines()
    assert "preset base: gutter down 8 px → 9 px" in told
    assert other.run("presets", "add", newer, "--yes").code == 0
    assert other.run("presets", "diff", "house", "base").out == "title House → Base\n"
    assert other.run("presets", "diff", "us-comic", "us-comic").out == "They are the same.\n"


def test_remove(maker: Home) -> None:
    """A pack goes as a whole; one that is not there is told with those that are."""
    other = friend(maker)
    assert other.run("presets", "add", packed(maker), "--yes").code == 0
    wrong = other.run("presets", "remove", "studios", "--yes")
    assert (wrong.code, wrong.out) == (2, "")
    assert "Write studio." in wrong.err
    assert other.run("presets", "remove", "studio", "--yes").code == 0
    assert "house" not in other.run("presets", "list").out
    assert contents(other.own) == {}


def test_names_that_are_there(maker: Home) -> None:
    """A folder that has a preset or layout of the name already is left as it is."""
    other = friend(maker)
    written(other.own / "House.toml", house())
    written(other.own / "layouts" / "x.toml", "[wide]\ntiers = [2]\n")
    before = contents(other.own)
    run = other.run("presets", "add", packed(maker), "--yes")
    assert (run.code, contents(other.own)) == (2, before)
    assert f"already in {other.own / 'House.toml'} or {other.own / 'layouts' / 'x.toml'}" in run.err
    assert other.run("presets", "add", packed(maker, "3"), "--to", other.studio, "--yes").code == 0


def test_what_cannot_be_packed(maker: Home) -> None:
    """Unknown names, and presets that are based on files, are refused and nothing is written."""
    written(maker.own / "near.toml", 'based_on = "base.toml"\n')
    for name, said in (("hose", 'Did you mean "house"?'), ("near", "packs hold presets by name")):
        run = maker.run("presets", "pack", name, "--out", "x.zip")
        assert (run.code, run.out) == (2, "")
        assert said in run.err
    assert not (maker.desk / "x.zip").exists()


def test_the_profile_of_zip() -> None:
    """Local headers are as ISO/IEC 21320-1 and PKWARE's APPNOTE 4.3.7 have them, names in UTF-8."""
    data = pack_bytes({"name": "x", "version": "1"}, {"塩.toml": b"x = 1\n"})
    assert data == pack_bytes({"version": "1", "name": "x"}, {"塩.toml": b"x = 1\n"})
    at, seen = 0, {}
    while data[at : at + 4] == b"PK\3\4":
        need, flags, method = struct.unpack_from("<HHH", data, at + 4)
        size, names, extra = struct.unpack_from("<IHH", data, at + 22)
        name = data[at + 30 : at + 30 + names].decode()
        seen[name] = (need <= 45, flags, method, data[at + 10 : at + 14], extra)
        at += 30 + names + extra + size
    date = b"\0\0\x21\0"  # 1 January 1980, midnight
    assert seen == {"card.toml": (True, 0, 0, date, 0), "塩.toml": (True, 0x800, 0, date, 0)}


def versions(maker: Home) -> tuple[Pack, Pack]:
    """Two versions of one pack."""
    one = read_pack(packed(maker))
    shutil.rmtree(maker.own / "layouts")
    (maker.own / "base.toml").write_text(house("Base", "9 px"), "utf-8")
    return one, read_pack(packed(maker, "2"))


def test_killed_in_the_middle(maker: Home) -> None:
    """Whenever a process that adds dies, the old pack or the new one is there, whole."""
    one, other = versions(maker)
    folder = maker.folder / "there"

    def add_in_turn() -> None:
        while True:
            for pack in (one, other):
                with packs_of(folder) as packs:
                    put_pack(pack, packs)

    with packs_of(folder) as packs:
        put_pack(one, packs)
    for number in range(20):
        assert killed(add_in_turn, 0.002 * number)
        there = pack_path(folder, "studio").read_bytes()
        assert there in (one.data, other.data)


def test_two_at_once(maker: Home) -> None:
    """Of two processes that add at the same moment, each waits for the other; one is there."""
    one, other = versions(maker)
    friendly = friend(maker)
    names = [(maker.desk / f"studio {x}" / "studio.zip") for x in (1, 2)]
    call = [sys.executable, "-m", "guidekit", "presets", "add", "--yes", "--to"]
    env = environment(XDG_DATA_HOME=str(friendly.folder))
    runs = [Popen([*call, str(friendly.own), str(name)], env=env) for name in names * 2]
    assert [run.wait() for run in runs] == [0] * 4
    assert pack_path(friendly.own, "studio").read_bytes() in (one.data, other.data)
    assert {path.name for path in (friendly.own / "packs").iterdir()} == {"studio.zip"}


def test_a_pack_that_has_gone_bad(maker: Home) -> None:
    """A pack that was changed where it lies is left out with a warning; the rest goes on."""
    other = friend(maker)
    assert other.run("presets", "add", packed(maker), "--yes").code == 0
    path = pack_path(other.own, "studio")
    path.write_bytes(path.read_bytes().replace(b'title = "House"', b'title = "Mouse"'))
    run = other.run("presets", "list")
    assert run.code == 0
    assert "house" not in run.out
    assert "It is left out." in run.err
