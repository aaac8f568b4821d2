"""What a build remembers: only what its canvases need, and nothing once it is done."""

import re
import threading
from itertools import cycle, islice
from weakref import WeakSet

import pytest
from support.programs import HANG
from support.samples import REPOSITORY

from guidekit.memory import KEPT, in_turn, remembered, remembering


class Result:
    """Something that is made, and that can be seen to be gone."""


class Workshop:
    """A remembered function that counts: what it was asked to make, and what of it still lives."""

    def __init__(self) -> None:
        self.made: list[object] = []
        self.alive: WeakSet[Result] = WeakSet()
        self.make = remembered(self._make)

    def _make(self, what: object, size: int = 1) -> Result:
        self.made.append(what)
        result = Result()
        self.alive.add(result)
        return result


@pytest.fixture
def workshop() -> Workshop:
    """A new one for each test."""
    return Workshop()


def test_a_build_works_out_once(workshop: Workshop) -> None:
    """What is asked for again is the same result; other arguments have another."""
    with remembering():
        first = workshop.make("trim")
        assert workshop.make("trim") is first
        assert workshop.make("trim", 2) is not first
        assert workshop.make("trim", size=2) is workshop.make("trim", size=2)
    assert workshop.made == ["trim"] * 3


def test_functions_are_told_apart() -> None:
    """Two functions of the same arguments have each their own result."""
    with remembering():
        assert remembered(min)(1, 2) == 1
        assert remembered(max)(1, 2) == 2


def test_nothing_is_kept_outside_a_build(workshop: Workshop) -> None:
    """Without a build a remembered function is a plain one, and canvases pass through."""
    for _ in in_turn(range(3)):
        workshop.make("trim")
    assert workshop.made == ["trim"] * 3
    assert not workshop.alive


def test_facing_pages_share(workshop: Workshop) -> None:
    """Left and right alternate: each side is worked out once for all pages."""
    with remembering():
        for side in in_turn(islice(cycle(["left", "right"]), 20)):
            workshop.make(side)
    assert workshop.made == ["left", "right"]


def test_what_is_not_used_is_dropped(workshop: Workshop) -> None:
    """What none of the last `KEPT` canvases has used is gone, and made anew if asked for."""
    with remembering():
        for canvas in in_turn(range(KEPT + 3)):
            if canvas in (0, KEPT + 2):
                workshop.make("splash")
            assert len(workshop.alive) == (canvas <= KEPT or canvas == KEPT + 2)
    assert workshop.made == ["splash"] * 2


@pytest.mark.parametrize("each", [1, 40, 300])
def test_as_much_as_canvases_need(workshop: Workshop, each: int) -> None:
    """However many canvases differ, no more lives than this one and the last `KEPT` have used."""
    with remembering():
        for canvas in in_turn(range(30)):
            for number in range(each):
                workshop.make((canvas, number))
                assert workshop.make((canvas, number))
            assert len(workshop.alive) == each * min(canvas + 1, KEPT + 1)
    assert len(workshop.made) == each * 30


def test_nothing_is_left_after_a_build(workshop: Workshop) -> None:
    """When a build ends, be it by an error, all it remembered is gone."""
    with remembering():
        workshop.make("trim")
        assert workshop.alive
    assert not workshop.alive

    @remembering()
    def build() -> None:
        workshop.make("trim")
        raise RuntimeError("stopped")

    for _ in range(2):
        with pytest.raises(RuntimeError, match="stopped"):
            build()
        assert not workshop.alive
    assert workshop.made == ["trim"] * 3


def test_errors_are_not_remembered() -> None:
    """What could not be worked out is tried again."""
    tries = []

    @remembered
    def half(number: int) -> int:
        tries.append(number)
        if len(tries) == 1:
            raise RuntimeError("stopped")
        return number // 2

    with remembering():
        with pytest.raises(RuntimeError, match="stopped"):
            half(6)
        assert half(6) == 3


def test_a_build_within_a_build(workshop: Workshop) -> None:
    """It has a memory of its own, and gives back the other's as it was."""
    with remembering():
        outer = workshop.make("trim")
        with remembering():
            assert workshop.make("trim") is not outer
        assert workshop.make("trim") is outer


def test_builds_side_by_side(workshop: Workshop) -> None:
    """Two threads that build at once share nothing; a thread of a build works without memory."""
    together = threading.Barrier(2, timeout=HANG)
    made = []

    def build() -> None:
        with remembering():
            together.wait()
            first = workshop.make("trim")
            together.wait()
            made.append(first)
            assert workshop.make("trim") is first
            helper = threading.Thread(target=lambda: made.append(workshop.make("trim")))
            helper.start()
            helper.join()

    builds = [threading.Thread(target=build) for _ in range(2)]
    for thread in builds:
        thread.start()
    for thread in builds:
        thread.join()
    assert len(set(made)) == len(made) == 4


def test_caches_of_the_process_say_why() -> None:
    """What outlives a build is a constant: every such cache has its reason on its line."""
    caches = [
        f"{path.name}: {line}"
        for path in (REPOSITORY / "guidekit").rglob("*.py")
        for line in path.read_text("utf-8").splitlines()
        if re.search(r"@(functools\.)?(lru_)?cache\b", line)
    ]
    assert caches
    assert [line for line in caches if "#" not in line] == []
