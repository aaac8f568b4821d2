"""No traceback ever: nasty input of every kind ends in a sentence and an exit code of 1 or 2."""

import os
import resource
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from support.long import shortened
from support.programs import HANG
from support.samples import HEAD, SPLASH, command, environment, issue_file, run_here, run_process

GOOD = HEAD + SPLASH
DEEP = 255

#: What the file of the issue holds.
TEXTS = {
    "huge number for a length": f"{HEAD}format.gutter = {'9' * 400}\n{SPLASH}",
    "huge number for a page": f"{HEAD}{SPLASH}gutter = {'9' * 400}\n",
    "number of 5000 digits": f"{HEAD}format.dpi = {'9' * 5000}\n{SPLASH}",
    "infinite": f"{HEAD}format.gutter = inf\n{SPLASH}",
    "not a number": f"{HEAD}[[pages]]\ntiers = [{{ widths = [nan, 1] }}]\n",
    "date": f"{HEAD}format.border = 2001-01-01\n{SPLASH}",
    "list of lists": f"{HEAD}[[pages]]\ntiers = [[[[]]]]\n",
    "table for a title": 'title = { a = 1 }\npreset = "us-comic"\n' + SPLASH,
    "table for a preset": 'title = "x"\npreset = { a = 1 }\n' + SPLASH,
    "list for the format": HEAD + "format = [1]\n" + SPLASH,
    "based_on in the format": HEAD + 'format.based_on = "jis-b5"\n' + SPLASH,
    "null in a preset's name": 'title = "x"\npreset = "a\\u0000.toml"\n' + SPLASH,
    "the issue as its own preset": 'title = "x"\npreset = "issue.toml"\n' + SPLASH,
    "folder as a preset": 'title = "x"\npreset = ".."\n' + SPLASH,
    "endless chain of presets": 'title = "x"\npreset = "p0.toml"\n' + SPLASH,
    "no font": HEAD + 'label_font = "issue.toml"\n' + SPLASH,
    "folder as a font": HEAD + 'label_font = ".."\n' + SPLASH,
    "zero in a fraction": HEAD + 'format.border = "1/0 in"\n' + SPLASH,
    "border wider than the page": HEAD + 'format.border = "99999 in"\n' + SPLASH,
    "deep tables": HEAD + "[[pages]]\n" + ".".join(["tiers"] * 5000) + " = 1\n",
    "deep tiers": HEAD + "[[pages]]\ntiers = " + "[{ tiers = " * DEEP + "[]" + "}]" * DEEP,
    "map of one long line": f"{HEAD}[[pages]]\nmap = '{' '.join(map(chr, range(161, 9999)))}'\n",
    "pages as a table": HEAD + "[pages]\npanels = 1\n",
    "empty panel table": HEAD + SPLASH + 'panel."".bleed = "all"\n',
    "sides of two kinds": HEAD + SPLASH + 'panel.1.bleed = ["top", 3, ["x"]]\n',
    "strange escape": 'title = "\\ud800"\n',
    "control characters": "\0\1\2",
}
#: Arguments, where ``{}`` stands for the good issue.
ARGUMENTS: dict[str, list[str | bytes]] = {
    "unknown command": ["bild", "{}"],
    "unknown option": ["build", "{}", "--dip", "3"],
    "no argument": ["build"],
    "two issues": ["build", "{}", "{}"],
    "name of no script": ["build", b"\xff\xfe.toml"],
    "new of no script": ["new", b"a\xff"],
    "title of no script": ["new", "x", "--title", b"a\xff"],
    "very long name": ["build", "x" * 1000],
    "very long folder": ["build", "{}", "--out", "x" * 300],
    "very long new": ["new", "y" * 253],
    "dpi of a word": ["build", "{}", "--dpi", "many"],
    "dpi of 0": ["build", "{}", "--dpi", "0"],
    "dpi beyond all measure": ["build", "{}", "--dpi", "9" * 400],
    "pages of words": ["build", "{}", "--pages", "all"],
    "pages backward": ["build", "{}", "--pages", "4-2"],
    "pages beyond all measure": ["build", "{}", "--pages", "1-" + "9" * 400],
    "no format": ["build", "{}", "--format", ""],
    "format with a path": ["build", "{}", "--format", "../psd"],
    "preset with a path": ["presets", "show", "../us-comic"],
    "preset that is a folder": ["presets", "check", "."],
    "preset that is an issue": ["presets", "check", "{}"],
    "measure of a folder without an issue": ["check", "/dev", "--json"],
    "no device": ["build", "{}", "--out", "/dev/null"],
    "device as a folder": ["build", "{}", "--out", "/dev/null/x"],
}


def no_traceback(err: bytes) -> None:
    """Fails with the end of a traceback if there is one."""
    if b"Traceback" in err:
        pytest.fail(err.decode()[-300:])


def assert_told(code: int, out: bytes, err: bytes) -> None:
    """Holds that a failure was told in a few lines, and by nothing but these."""
    no_traceback(err)
    said = err.decode()
    assert code in (1, 2)
    assert out == b""
    assert 10 < len(said) < 2500


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Runs the command line in the test's folder; what it does not catch comes through."""
    monkeypatch.chdir(tmp_path)

    def told(*arguments: str | bytes) -> None:
        run = run_here(*map(os.fsdecode, arguments))
        assert_told(run.code, run.out.encode(), run.err.encode(errors="backslashreplace"))

    return told


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_nasty_text(tmp_path: Path, text: str, run: Callable[..., None]) -> None:
    """Whatever stands in the file, the build ends with a sentence and makes no folder."""
    if "p0.toml" in text:
        for i in range(1500):
            (tmp_path / f"p{i}.toml").write_text(f'based_on = "p{i + 1}.toml"\n', "utf-8")
    issue_file(tmp_path, text)
    run("build", "issue.toml", "--out", "out")
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("arguments", ARGUMENTS.values(), ids=ARGUMENTS)
def test_nasty_arguments(
    tmp_path: Path, arguments: list[str | bytes], run: Callable[..., None]
) -> None:
    """Whatever the arguments are, the command ends with a sentence and makes no file."""
    issue = str(issue_file(tmp_path, GOOD))
    run(*(issue if given == "{}" else given for given in arguments))
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == [tmp_path / "issue.toml"]


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no /dev/zero")
def test_file_without_an_end(tmp_path: Path) -> None:
    """A device that never ends is not read into memory until none is left."""
    done = subprocess.run(
        command("build", "/dev/zero", "--out", "out"),
        cwd=tmp_path,
        env=environment(),
        capture_output=True,
        timeout=HANG,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (2 << 30, 2 << 30)),
    )
    assert_told(done.returncode, done.stdout, done.stderr)


@pytest.mark.parametrize(
    "arguments",
    shortened([["measure"], ["measure", "--json"], ["build", "--json"]], [["measure"]]),
    ids=" ".join,
)
@pytest.mark.parametrize("encoding", ["cp1252", "ascii"])
def test_output_in_an_old_encoding(tmp_path: Path, arguments: list[str], encoding: str) -> None:
    """A pipe that is not in Unicode, as on some systems, takes names in any script too."""
    issue_file(tmp_path, GOOD.replace("The Salt Road", "塩 طريق 🐪"))
    done = subprocess.run(
        command(arguments[0], "issue.toml", "--dpi", 30, *arguments[1:]),
        cwd=tmp_path,
        env=environment(PYTHONUTF8="0", PYTHONIOENCODING=encoding),
        capture_output=True,
    )
    no_traceback(done.stderr)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"p001" in done.stdout


def test_reader_that_leaves(tmp_path: Path) -> None:
    """A pipe that is closed early, as by a pager, is no reason for a traceback."""
    issue_file(tmp_path, HEAD + "[[pages]]\ncount = 3000\npanels = 1\n")
    with subprocess.Popen(
        command("measure", "issue.toml"),
        cwd=tmp_path,
        env=environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        assert process.stdout
        assert process.stderr
        process.stdout.read(10)
        process.stdout.close()
        no_traceback(process.stderr.read())


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("words", ["measure", "build --json", "refresh --json"])
def test_output_onto_a_full_disk(words: str, tmp_path: Path) -> None:
    """Output that finds no room is a failure of the machine: exit code 1 and a sentence."""
    issue_file(tmp_path, GOOD)
    (tmp_path / "salt-road-02").mkdir()
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            command(*words.split(), "issue.toml"),
            cwd=tmp_path,
            env=environment(),
            stdout=full,
            stderr=subprocess.PIPE,
        )
    assert_told(done.returncode, b"", done.stderr)


def test_the_good_issue_is_good(tmp_path: Path) -> None:
    """The issue that the arguments above are given with is itself accepted."""
    issue_file(tmp_path, GOOD)
    assert run_process(["build", "issue.toml", "--dpi", 30], tmp_path).code == 0
