"""Commands that load nothing to check options that are not given, and check those that are."""

import pytest
from support.samples import run_here


@pytest.mark.parametrize("option", ["--help", "-h"])
@pytest.mark.parametrize("before", [[], ["presets"], ["layouts"], ["presets", "list"]])
def test_help(before: list[str], option: str) -> None:
    """``--help`` or ``-h`` shows the help at every level, and nothing else happens."""
    run = run_here(*before, option)
    assert run.code == 0
    assert " ".join(["guidekit", *before, "[OPTIONS]"]) in run.out.splitlines()[0]
    assert "us-comic " not in run.out


def test_an_option_that_is_given() -> None:
    """A number that is given counts, and is none if it is no number."""
    five = run_here("layouts", "list", "--panels", "5").out.splitlines()
    assert five
    assert five[0] == "5 panels"
    assert all(line.startswith("  ") for line in five[1:])
    wrong = run_here("layouts", "list", "--panels", "some")
    assert (wrong.code, wrong.out) == (2, "")
    assert "--panels" in wrong.err


def test_an_option_that_is_not_given() -> None:
    """Without the option, layouts of every number of panels are listed."""
    lines = run_here("layouts", "list").out.splitlines()
    assert {line.split()[0] for line in lines} >= {"1", "2", "5", "12"}


def test_unknown_options_are_refused() -> None:
    """An option that is not there, and a word too many, are refused."""
    for extra in ("--panel", "more"):
        run = run_here("presets", "list", extra)
        assert (run.code, run.out) == (2, "")
        assert extra in run.err
