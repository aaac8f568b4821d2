"""The tests for authors of formats: ours pass them, and what is wrong does not."""

import zipfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from io import BytesIO

import pytest
from support.catalogue import writer_called

from guidekit.plugins.conformance import Finder, check, conforms, in_no_file, in_the_bytes
from guidekit.plugins.contract import Limits, Output, Stack, all_members
from guidekit.plugins.stacks import every_stack, sample


def in_the_archive(name: str, files: Sequence[Output]) -> bool:
    """Whether a name is in the list of layers of an OpenRaster file."""
    (file,) = files
    with zipfile.ZipFile(BytesIO(b"".join(file.pieces))) as archive:
        return in_the_bytes(name, [Output(file.name, [archive.read("stack.xml")])])


test_psd = conforms(lambda: writer_called("psd"))
test_ora = conforms(lambda: writer_called("ora"), in_the_archive)
test_tiff_page = conforms(lambda: writer_called("tiff-page"), in_no_file)


class Good:
    """A writer of names."""

    name = "good"

    def limits(self, dpi: int) -> Limits:
        """As good as any."""
        return Limits(100_000)

    def write(self, stack: Stack) -> Iterable[Output]:
        """One file with all names."""
        names = "\n".join(member.name for member in all_members(stack.members))
        yield Output(f"{stack.file_name}.txt", [f"{stack.title}\n{names}".encode()])


def nothing(stack: Stack) -> Iterator[Output]:
    """No file."""
    return iter(())


def empty(stack: Stack) -> Iterator[Output]:
    """A file without bytes."""
    yield Output(f"{stack.file_name}.txt", [b""])


def outside(stack: Stack) -> Iterator[Output]:
    """A file above the folder of the build."""
    yield Output(f"../{stack.file_name}.txt", [b"x"])


def of_another(stack: Stack) -> Iterator[Output]:
    """A file under another canvas's name."""
    yield Output("page.txt", [b"x"])


def without_names(stack: Stack) -> Iterator[Output]:
    """A file in which no name is."""
    yield Output(f"{stack.file_name}.txt", [b"x"])


def with_a_count(stack: Stack) -> Iterator[Output]:
    """Other bytes each time."""
    COUNT.append(1)
    yield Output(f"{stack.file_name}.txt", [f"{len(COUNT)} {stack!r}".encode()])


COUNT: list[int] = []


@pytest.mark.parametrize(
    ("write", "said"),
    [
        (nothing, "gives no file"),
        (empty, "has no bytes"),
        (outside, "no file name that begins"),
        (of_another, "no file name that begins"),
        (without_names, "is lost"),
        (with_a_count, "the same bytes"),
    ],
)
def test_what_is_wrong(write: Callable[[Stack], Iterator[Output]], said: str) -> None:
    """A writer that does what it must not is told so."""
    bad = type("Bad", (Good,), {"write": lambda self, stack: write(stack)})
    with pytest.raises((AssertionError, ValueError), match=said):
        check(bad, sample())


def test_every_stack_is_another() -> None:
    """The stacks differ, and the writer above takes all of them."""
    stacks = every_stack()
    assert len({repr(stack) for stack in stacks.values()}) == len(stacks)
    finder: Finder = in_the_bytes
    for stack in stacks.values():
        check(Good, stack, finder)
