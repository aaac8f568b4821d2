"""What takes long: CI runs all of it, and a user's first run a stated part of it."""

import os
from collections.abc import Collection, Iterable
from typing import TypeVar

import pytest

T = TypeVar("T")

#: True where everything runs, however long it takes.
IN_CI = bool(os.environ.get("CI"))

#: A test that only CI runs; as `pytestmark` all tests of a file. The rest is in conftest.py.
long = pytest.mark.long


def shortened(cases: Iterable[T], first: Collection[T]) -> list[object]:
    """The cases of a test, of which a user's run has those that are in `first` alone."""
    cases = [*cases]
    assert 0 < sum(case in first for case in cases) == len(first), "no such cases"
    return [
        case
        if case in first
        else pytest.param(*case if isinstance(case, tuple) else (case,), marks=long)
        for case in cases
    ]


def in_ci(number: int, first: int) -> int:
    """How often something is tried: so often in CI, and `first` in a user's run."""
    return number if IN_CI else first
