"""What a file says of its page is believed where all that is read of it can be."""

import json
from collections.abc import Iterator
from contextlib import suppress
from copy import deepcopy
from typing import Any

import pytest
from support.laid_out_pages import page

from guidekit.drawn.info import Info, modern
from guidekit.drawn.refreshing.fits import place_of, refuse_other_page, refuse_other_size, wants_of
from guidekit.drawn.standing.changes import changes
from guidekit.drawn.standing.known_again import known_again
from guidekit.drawn.unfit import UnfitError
from guidekit.geometry.digest import PlanDigests
from guidekit.layers.prints import info_key, whole_info
from guidekit.layers.standard import standard_stack
from guidekit.memory import remembering
from guidekit.shipped import shipped

PLAN = page({"tiers": [1, 2], "panel": {"1": {"bleed": ["top"]}}})
STACK = standard_stack(PLAN, shipped().guides)
NOW, DIGESTS = whole_info(STACK), PlanDigests()
TOLD: Info = json.loads(json.dumps(NOW))
FIRST = {key: value for key, value in TOLD.items() if key not in ("layers", "plan")}
ODD = [None, "x", -1, 1.5, float("inf"), 10**400, [], {}, [1], {"a": 1}]

Place = tuple[str | int, ...]


def places(value: Any, at: Place = ()) -> Iterator[Place]:
    """Where something stands in plain data; of a list the first entry."""
    keys = value if isinstance(value, dict) else [0] if isinstance(value, list) and value else []
    for key in keys:
        yield (*at, key)
        yield from places(value[key], (*at, key))


def read(info: Info) -> None:
    """Whatever status and refresh read of an info."""
    changes(info, NOW)
    wants_of(info, STACK)
    if info["page"]["pages"]:  # of files without it is not asked which page they are
        known_again({PLAN.file_name: info}, (PLAN,), DIGESTS, lambda canvas: False)
    if "layers" in info:
        info_key(info)
    for look in (
        lambda: place_of(info, PLAN),
        lambda: refuse_other_size((1, 1), None, info, PLAN, tiles=False),
        lambda: refuse_other_page(info, PLAN, (PLAN,)),
    ):
        with suppress(UnfitError):
            look()


@pytest.mark.parametrize("told", [TOLD, FIRST])
@remembering()
def test_what_is_told_is_fit_to_be_read(told: Info) -> None:
    """Whatever stands in place of what a build told is refused, or does no harm."""
    assert modern(told) == told
    refused = 0
    for *above, last in places(told):
        for odd in ODD:
            info: Any = deepcopy(told)
            inside = info
            for key in above:
                inside = inside[key]
            inside[last] = odd
            if found := modern(info):
                read(found)
            else:
                refused += 1
    assert refused > 200
