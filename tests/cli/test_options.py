"""Options as people write them: ranges of pages, formats and layers in any case, dpi."""

from pathlib import Path

import pytest
from support.samples import DPI, boxes_of, events_of, issue_file, run_here


def pages(folder: Path, text: str) -> list[int]:
    """The pages that are measured of an issue of four."""
    run = run_here("measure", issue_file(folder), "--json", "--dpi", DPI, f"--pages={text}")
    assert (run.code, run.err) == (0, "")
    return [number for page in boxes_of(run) for number in page["pages"]]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("3", [3]),
        ("2-3", [2, 3]),
        ("3-", [3, 4]),
        ("-2", [1, 2]),
        ("4-", [4]),
        ("1, 3 - 4", [1, 3, 4]),
        ("-1,4-", [1, 4]),
        ("2–3", [2, 3]),
    ],
)
def test_pages(tmp_path: Path, text: str, found: list[int]) -> None:
    """Numbers and ranges are taken, and ranges may be open at either end."""
    assert pages(tmp_path, text) == found


FORM = "Write page numbers and ranges, as in 3-8, 1,4-6 or 12-."


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("8-3", "8-3 runs backward. Write 3-8."),
        ("all", f'"all" is not a page. {FORM}'),
        ("-", f'"-" is not a page. {FORM}'),
        ("1,,2", f'"" is not a page. {FORM}'),
        ("1-2-3", f'"1-2-3" is not a page. {FORM}'),
        ("١", f'"١" is not a page. {FORM}'),
        ("5-", "page 5 is not in the issue. Take pages from 1 to 4."),
        ("0-2", "page 0 is not in the issue. Take pages from 1 to 4."),
        ("3-9", "page 5 and others are not in the issue. Take pages from 1 to 4."),
    ],
)
def test_wrong_pages(tmp_path: Path, text: str, said: str) -> None:
    """What names no pages of the issue is answered with how to write them."""
    run = run_here("measure", issue_file(tmp_path), f"--pages={text}")
    assert run == (2, "", f"guidekit: --pages: {said}\n")


@pytest.mark.parametrize("dpi", ["72", "72dpi", "72 DPI", " 72 "])
def test_dpi(tmp_path: Path, dpi: str) -> None:
    """A resolution may have its unit."""
    run = run_here("measure", issue_file(tmp_path), "--json", "--pages", 1, "--dpi", dpi)
    assert boxes_of(run)[0]["dpi"] == 72


@pytest.mark.parametrize(
    ("dpi", "said"),
    [
        ("many", '"many" is not a resolution. Write a whole number of pixels to the inch, as in '
            "300."),
        ("-3", '"-3" is not a resolution. Write a whole number of pixels to the inch, as in 300.'),
        ("0", "0 is too small. Write 1 or more."),
        ("10001", "10001 is too large. Write 10,000 or less."),
    ],
)  # fmt: skip
def test_wrong_dpi(tmp_path: Path, dpi: str, said: str) -> None:
    """What is no resolution is told by the name of the option."""
    run = run_here("measure", issue_file(tmp_path), "--dpi", dpi)
    assert run == (2, "", f"guidekit: --dpi: {said}\n")


def test_formats_in_any_case(tmp_path: Path) -> None:
    """A format is known in any letter case, and written once."""
    arguments = ["build", issue_file(tmp_path), "--out", tmp_path / "out", "--dpi", DPI]
    run = run_here(*arguments, "--format", "PNG, png,Png", "--json")
    names = [name for page in events_of(run, "page") for name in page["files"]]
    assert names == [f"salt-road-02-p00{page}.png" for page in range(1, 5)]


def test_layers_in_any_case(tmp_path: Path) -> None:
    """Names of layers and groups are known in any letter case."""
    path = issue_file(tmp_path)
    for layers, out in (("Panel borders,Inks", "a"), ("panel BORDERS, inks", "b")):
        run = run_here(
            "build", path, "--out", tmp_path / out, "--dpi", DPI, "--layers", layers, "--pages", 1
        )
        assert (run.code, run.err) == (0, "")
    name = "salt-road-02-p001.psd"
    assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes()


def test_an_unknown_layer(tmp_path: Path) -> None:
    """A layer that no page has is told by the name of the option, with the nearest."""
    run = run_here("build", issue_file(tmp_path), "--out", tmp_path / "out", "--layers", "Inkz")
    said = '--layers: there is no group or layer "Inkz". Did you mean "Inks"?'
    assert run == (2, "", f"guidekit: {said}\n")


@pytest.mark.parametrize("words", [("new", "here", "--pages"), ("layouts", "list", "--panels")])
def test_wrong_numbers(words: tuple[str, ...]) -> None:
    """What is no number is told in the words of every other message."""
    option = words[-1]
    said = f'guidekit: {option}: "six" is not a number of {option[2:]}. Write a whole number, as '
    assert run_here(*words, "six") == (2, "", f"{said}in 6.\n")


@pytest.mark.parametrize("option", ["--out", "-o"])
def test_the_folder(tmp_path: Path, option: str) -> None:
    """The folder for the canvases may be named by a letter too; a dry run only tells it."""
    run = run_here("build", issue_file(tmp_path), option, tmp_path / "there", "--dry-run")
    assert (run.code, run.err) == (0, "")
    assert run.out.startswith(f"{tmp_path / 'there'}: 4 would be written.")
    assert " MB" not in run.out


def test_what_files_take(tmp_path: Path) -> None:
    """The size that is told is that of the canvases built, not of kept ones of another dpi."""
    words = ("build", issue_file(tmp_path), "--out", tmp_path / "out")
    assert " MB." in run_here(*words).out
    run = run_here(*words, "--dpi", "50")
    assert run.code == 1
    assert "4 kept." in run.out
    assert " MB" not in run.out
