"""A page format from answers, or from a finished canvas: what is read, and what is guessed."""

import os
import pty
import subprocess
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import tifffile
from PIL import Image
from support.samples import command, contents, environment, issue_file, run_here

from guidekit.preset import find_preset, read_preset
from guidekit.shipped import shipped
from guidekit.units import Length

ISSUE = 'title = "A"\npreset = "{preset}"\n[[pages]]\ntiers = [2, 3]\n'


def new(folder: Path, *arguments: object) -> dict[str, Any]:
    """The values of a new preset, which is fit to use."""
    path = folder / "ours.toml"
    run = run_here("presets", "new", path, *arguments)
    assert (run.code, run.err) == (0, ""), run
    assert read_preset(path, shipped()).preset
    return tomllib.loads(path.read_text("utf-8"))


def built(folder: Path, preset: str, form: str) -> Path:
    """A canvas of a shipped preset, as guidekit writes it."""
    issue = issue_file(folder, ISSUE.format(preset=preset))
    assert run_here("build", issue, "--out", folder / "out", "--format", form).code == 0
    (path,) = (x for x in (folder / "out").iterdir() if not x.name.startswith("."))
    return path


def test_from_answers(tmp_path: Path) -> None:
    """What was said is taken as it is, what was not is usual and marked as guessed."""
    values = new(tmp_path, "--trim", "6.625 x 10.25 in", "--bleed", "1/8 in", "--dpi", 300)
    assert values["trim"] == {"width": "6.625 in", "height": "10.25 in"}
    assert (values["bleed"], values["dpi"], values["title"]) == ("0.125 in", 300, "Ours")
    lines = (tmp_path / "ours.toml").read_text("utf-8").splitlines()
    guessed = [line.split()[0] for line in lines if "# guessed" in line]
    assert guessed == ["safe_area", "gutter", "border"]


@pytest.mark.parametrize("preset", ["us-comic", "jis-b5", "square"])
def test_from_a_psd(tmp_path: Path, preset: str) -> None:
    """Of a canvas of ours the ruler guides give trim, bleed and safe area as they were."""
    values = new(tmp_path, "--from", built(tmp_path, preset, "psd"))
    want = find_preset(preset, shipped()).preset
    made = read_preset(tmp_path / "ours.toml", shipped()).preset
    assert made.dpi == want.dpi
    for one, other in ((made.trim, want.trim), (made.bleed, want.bleed)):
        assert one
        assert other
        for key in type(one).model_fields:
            left, right = getattr(one, key).px(want.dpi), getattr(other, key).px(want.dpi)
            assert abs(left - right) <= 1, key
    assert values["colour"] == "grey" if want.colour == "grey" else "colour" not in values
    text = (tmp_path / "ours.toml").read_text("utf-8")
    assert text.count("# guessed: the ruler guides nearest to the edges") == 2


@pytest.mark.parametrize("form", ["png-page", "tiff-page", "ora"])
def test_from_other_files(tmp_path: Path, form: str) -> None:
    """Files without ruler guides: size and resolution are read, a known format is proposed."""
    values = new(tmp_path, "--from", built(tmp_path, "us-comic", form))
    assert values["dpi"] == 600
    assert values["trim"] == {"width": "6.625 in", "height": "10.25 in"}
    assert "as large as that of us-comic" in (tmp_path / "ours.toml").read_text("utf-8")


SPREAD = ISSUE + "[[pages]]\nspread = true\ntiers = [2, 3]\n"


@pytest.mark.parametrize("preset", ["us-comic", "jis-b5", "iso-a5"])
@pytest.mark.parametrize("form", ["psd", "png-page"])
def test_from_a_spread(tmp_path: Path, preset: str, form: str) -> None:
    """Two facing pages on one canvas give one, by the ruler guide on the fold or by size."""
    issue = issue_file(tmp_path, SPREAD.format(preset=preset))
    built = ("build", issue, "--out", tmp_path / "out", "--format", form, "--pages", "2-")
    assert run_here(*built).code == 0
    (path,) = (x for x in (tmp_path / "out").iterdir() if not x.name.startswith("."))
    new(tmp_path, "--from", path)
    want = find_preset(preset, shipped()).preset
    made = read_preset(tmp_path / "ours.toml", shipped()).preset
    for one, other in ((made.page_size, want.page_size), (made.safe_area, want.safe_area)):
        for key in type(one).model_fields:
            left, right = getattr(one, key).px(want.dpi), getattr(other, key).px(want.dpi)
            assert abs(left - right) <= 2, (key, left, right)
    single = new(tmp_path / "single", "--from", path, "--single")
    assert Length.parse(single["trim"]["width"]).px(600) > want.page_size.width.px(600) * 1.9


def test_a_wide_picture(tmp_path: Path) -> None:
    """A wide canvas in which nothing tells of a fold is one page, unless it is said to be two."""
    Image.new("RGB", (1574, 1181)).save(tmp_path / "a.png", dpi=(300, 300))
    one = new(tmp_path / "one", "--from", tmp_path / "a.png")
    two = new(tmp_path / "two", "--from", tmp_path / "a.png", "--spread")
    assert (one["trim"]["width"], two["trim"]["width"]) == ("1504 px", "752 px")
    assert two["facing"] is True


def test_from_pictures_of_others(tmp_path: Path) -> None:
    """A grey TIFF of 16 bits, and a PNG that does not say how fine it is: both are told so."""
    tifffile.imwrite(tmp_path / "a.tif", np.zeros((1181, 787), np.uint16), resolution=(300, 300))
    values = new(tmp_path / "tiff", "--from", tmp_path / "a.tif")
    assert (values["colour"], values["depth"], values["dpi"]) == ("grey", 16, 300)
    Image.new("RGB", (787, 1181)).save(tmp_path / "a.png")
    new(tmp_path / "png", "--from", tmp_path / "a.png")
    text = (tmp_path / "png" / "ours.toml").read_text("utf-8")
    assert "guessed: the file does not say" in text
    assert "guessed: a bleed of 3 mm on all edges" in text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "--trim: the finished page has no size."),
        (["--trim", "6 x 9 in", "--spread"], "--spread and --single are for a canvas."),
        (["--trim", "wide"], '--trim: "wide" is not a size.'),
        (["--trim", "6 x 9 in", "--gutter", "5"], "--gutter: "),
        (["--trim", "6 x 9 in", "--safe-area", "3 in"], "safe_area inside and outside together"),
        (["--trim", "wide", "--gutter", "5"], '\n--gutter: "5" is not a length.'),
        (["--from", "broken.psd", "--bleed", "5 mm"], "--bleed: a canvas with --from has its own"),
        (["--from", "none.psd"], "there is no such file"),
        (["--from", "broken.psd"], "this cannot be read: "),
        (["--from", "broken.png"], "this cannot be read: "),
        (["--from", "broken.ora"], "this cannot be read: "),
        (["--from", "cut.png"], "this cannot be read: "),
        (["--from", "page.txt"], "this is no canvas, by its name"),
    ],
)
def test_wrong(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str], said: str
) -> None:
    """What cannot be a page format is told, and nothing is written."""
    monkeypatch.chdir(tmp_path)
    for name in ("broken.psd", "broken.png", "broken.ora"):
        (tmp_path / name).write_bytes(b"8BPS\0\1 and no more")
    (tmp_path / "cut.png").write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0")
    before = contents(tmp_path)
    run = run_here("presets", "new", "ours", *arguments)
    assert (run.code, run.out) == (2, ""), run
    assert said in run.err
    assert contents(tmp_path) == before


def test_on_a_terminal(tmp_path: Path) -> None:
    """On a terminal it asks for what is not given, with a usual answer to each question."""
    main, other = pty.openpty()
    with subprocess.Popen(
        command("presets", "new", "ours", "--bleed", "2 mm"),
        cwd=tmp_path,
        env=environment(TERM="dumb"),
        stdin=other,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        os.write(main, b"100 x 200 mm\n\n4 mm\n\n")
        _, err = process.communicate()
    os.close(main)
    os.close(other)
    assert process.returncode == 0
    assert b"Gutter [5 mm]" in err
    values = tomllib.loads((tmp_path / "ours.toml").read_text("utf-8"))
    assert values["trim"] == {"width": "100 mm", "height": "200 mm"}
    assert (values["bleed"], values["safe_area"], values["gutter"]) == ("2 mm", "6 mm", "4 mm")


@pytest.mark.parametrize("size", [(1, 1), (2000, 1), (30, 40)])
def test_a_picture_too_small_for_a_page(size: tuple[int, int], tmp_path: Path) -> None:
    """The picture is to blame, and not the preset that nobody has seen."""
    path = tmp_path / "small.png"
    Image.new("RGB", size).save(path)
    run = run_here("presets", "new", tmp_path / "ours.toml", "--from", path)
    said = f"{path}: {size[0]} × {size[1]} px at 300 dpi are no page with a margin. Give its size "
    assert (run.code, run.out) == (2, "")
    assert run.err == f"guidekit: {said}with --trim.\n"
    assert not (tmp_path / "ours.toml").exists()
