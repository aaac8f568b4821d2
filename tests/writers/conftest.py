"""The canvases under test in their files, each built once for all the tests of writers."""

from collections.abc import Callable
from functools import cache

import pytest
from support.books_under_test import CASES, Built, Case, built
from support.long import shortened
from support.psd_walk import Walked, walk

#: A user's run has one of each kind.
FIRST = ("spread", "grey manuscript", "scroll", "cover and names")


@pytest.fixture(scope="session")
def canvas(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Case], Built]:
    """The files of a case: its PSD and all kinds of PNG."""

    @cache
    def made(case: Case) -> Built:
        folder = tmp_path_factory.mktemp("canvas")
        return built(case, folder, ("psd", "png", "png-small", "png-page", "png-layers"))

    return made


@pytest.fixture(scope="module", params=shortened(CASES, FIRST))
def page(request: pytest.FixtureRequest, canvas: Callable[[Case], Built]) -> Built:
    """Each of the canvases in turn."""
    return canvas(CASES[request.param])


@pytest.fixture(scope="module")
def walked(page: Built) -> Walked:
    """The layered file's bytes, taken apart."""
    return walk(page.layered.read_bytes())
