"""Which plug-ins are installed, listed and begun."""

import json
from pathlib import Path

from support.guests import DOT, GUIDE, TEXT, WITH_GUIDE, WRITER, run
from support.plugin_files import EXAMPLE, installed_plugin, told_by
from support.samples import (
    contents,
    issue_file,
    run_process,
)


def test_the_list(tmp_path: Path) -> None:
    """Each plug-in is listed with what it brings; the broken part tells why, the others load."""
    site = tmp_path / "site"
    code = "print('hello')\n" + WRITER.format(write=TEXT)
    parts = {"guides": "gone = guests:gone", "writers": "guest = guests:Guest"}
    installed_plugin(site, "guests", code, presets="guests = guests.data", **parts)
    done = run(site, "plugins", "list", "--json")
    assert (done.code, done.err) == (2, "hello\n")
    (row,) = json.loads(done.out)["plugins"]
    assert (row["name"], row["version"], row["allowed"]) == ("guests", "1.0", True)
    told = {part["name"]: part.get("problem", "") for part in row["parts"]}
    assert "no folder guests.data" in told["guests"]
    assert "AttributeError" in told["gone"]
    assert told["guest"] == ""
    assert run(site, "plugins", "list").out.startswith("guests 1.0: A guest.\n  preset  guests")


def test_only_those_in_the_settings(tmp_path: Path) -> None:
    """Where the settings list plug-ins, no other is loaded; what it brings is not there."""
    site, config = tmp_path / "site", tmp_path / "config" / "guidekit"
    code = "raise SystemError('I was run')"
    installed_plugin(site, "guests", code, guides="guest = guests:guest")
    config.mkdir(parents=True)
    (config / "config.toml").write_text('plugins = ["others"]\n', "utf-8")
    issue = issue_file(tmp_path, WITH_GUIDE)
    done = run(site, "check", issue, XDG_CONFIG_HOME=str(tmp_path / "config"))
    assert done.code == 2
    assert 'there is no guide "guest"' in done.err
    listed = run(site, "plugins", "list", XDG_CONFIG_HOME=str(tmp_path / "config"))
    assert "the settings do not name it" in listed.out


def test_lists_load_none(tmp_path: Path) -> None:
    """Presets, layouts and formats of plug-ins are listed and none of their code is run."""
    site = tmp_path / "site"
    text = (EXAMPLE / "pyproject.toml").read_text("utf-8")
    (site / "postcards").mkdir(parents=True)
    for folder in ("presets", "layouts"):
        (site / "postcards" / folder).symlink_to(EXAMPLE / "postcards" / folder)
    (site / "postcards" / "__init__.py").write_text("raise SystemError('I was run')", "utf-8")
    points = text.partition("[project.entry-points.")[2].replace("[project.entry-points.", "[")
    told_by(site, "postcards", "1.0", f"[{points}".replace('"', "").partition("[tool")[0])
    assert "148 × 105 mm" in run(site, "presets", "list").out
    assert "(postcards 1.0)" in run(site, "presets", "list").out
    assert "postcards-pair" in run(site, "layouts", "list", "--panels", "3").out
    assert "postcards-list" in run(site, "formats").out
    shown = run(site, "presets", "show", "postcards")
    assert (shown.code, shown.err) == (0, "")


def test_a_new_one(tmp_path: Path) -> None:
    """What `plugins new` writes is the example under another name; nothing there is touched."""
    done = run_process(["plugins", "new", "ink_tools"], tmp_path)
    assert (done.code, done.err) == (0, "")
    same = tmp_path / "postcards"
    assert run_process(["plugins", "new", "postcards"], tmp_path).code == 0
    ours = contents(EXAMPLE)
    assert contents(same) == {name: ours[name] for name in contents(same)}
    kinds = (".py", ".toml", ".md")
    assert {*contents(same)} == {name for name in ours if name.endswith(kinds)}
    before = contents(tmp_path)
    for wrong in ("ink_tools", "Ink", "ink-tools", "import", "json", "guidekit", "../x"):
        done = run_process(["plugins", "new", wrong], tmp_path)
        assert (done.code, done.out) == (2, "")
    assert contents(tmp_path) == before


def test_an_entry_point_without_a_place(tmp_path: Path) -> None:
    """A package whose entry points cannot be read brings nothing, and stops nothing."""
    site = tmp_path / "site"
    told_by(site, "broken", "2.0", "[guidekit.guides]\ncorners\n")
    assert run(site, "formats").code == 0
    told = "broken 2.0: This package is not whole: an entry point has no =.\n"
    assert run(site, "plugins", "list").out == told


def test_half_an_installation(tmp_path: Path) -> None:
    """A package whose own words cannot be read brings nothing, is listed, and harms no other."""
    site = tmp_path / "site"
    installed_plugin(site, "guests", GUIDE.format(draw=DOT), guides="guest = guests:guest")
    told_by(site, "broken", "2.0", "[guidekit.guides]\nx = broken:x\n")
    (site / "broken-2.0.dist-info" / "entry_points.txt").write_bytes(b"[guidekit.guides]\n\xff")
    done = run(site, "plugins")
    assert (done.code, done.err) == (0, "")
    first, second, *_ = done.out.splitlines()
    assert first.startswith("broken 2.0: This package is not whole: ")
    assert second == "guests 1.0: A guest."
    issue = issue_file(tmp_path, WITH_GUIDE)
    assert run(site, "check", issue).code == 0
