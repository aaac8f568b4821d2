"""The tests that the author of a format runs on a writer, in one line of pytest::

    test_writer = conforms(LayerListWriter)

Each of the stacks of `guidekit.plugins.stacks` goes through the writer: the same bytes come twice,
files have bytes and names of their canvas, limits are told and nothing in them fails, and the name
of every group and layer is found in the files. Needs pytest.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from xml.sax.saxutils import escape, quoteattr

import pytest

from guidekit.layers.model import Stack, all_members
from guidekit.plugins.guard import check_files
from guidekit.plugins.stacks import every_stack
from guidekit.writers.protocol import Limits, Output, Writer

#: Whether a name is found in files.
Finder = Callable[[str, Sequence[Output]], bool]


def in_the_bytes(name: str, files: Sequence[Output]) -> bool:
    """True if a name stands in the files as UTF-8 or UTF-16, also as XML or JSON write it."""
    spelled = (name, escape(name), quoteattr(name)[1:-1], json.dumps(name)[1:-1])
    forms = {text.encode(code) for text in spelled for code in ("utf-8", "utf-16-le", "utf-16-be")}
    return any(form in b"".join(file.pieces) for file in files for form in forms)


def in_no_file(name: str, files: Sequence[Output]) -> bool:
    """For flat pictures, which hold no names."""
    return True


def conforms(make: Callable[[], Writer], finds: Finder = in_the_bytes) -> Callable[[str], None]:
    """A test for pytest of the writer that `make` makes.

    `finds` says whether a name is in the files; a format that packs its text brings its own.
    """

    @pytest.mark.parametrize("case", every_stack())
    def test(case: str) -> None:
        check(make, every_stack()[case], finds)

    test.__doc__ = "The writer takes the stack as guidekit's own writers do."
    return test


def check(make: Callable[[], Writer], stack: Stack, finds: Finder = in_the_bytes) -> None:
    """Raise `AssertionError` where a writer does not do with a stack what it has to."""
    writer, limits = make(), make().limits(stack.dpi)
    assert writer.name, "a writer has the name of its format"
    assert isinstance(limits, Limits), "limits are told as Limits"
    assert limits.edge > 0, "there is a canvas that it holds"
    assert limits.layers > 0, "there is a layer that it holds"
    members = [*all_members(stack.members)]
    if stack.canvas.longest > limits.edge or len(members) > limits.layers:
        return  # guidekit refuses it before the writer is asked
    files, again = [*writer.write(stack)], [*make().write(stack)]
    check_files(files, stack)
    assert _bytes(files) == _bytes(again), "the same stack gives the same bytes"
    for member in members:
        assert finds(member.name, files), f"the name {member.name!r} is lost"


def _bytes(files: Sequence[Output]) -> list[tuple[str, bytes]]:
    return [(file.name, b"".join(file.pieces)) for file in files]
