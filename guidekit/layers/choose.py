"""A stack with only some of its groups and layers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from guidekit.errors import InputError
from guidekit.layers.model import Group, Layer, Stack, all_layers, all_members
from guidekit.registry import unknown


def only(stack: Stack, names: Sequence[str]) -> Stack:
    """The stack with the groups and layers of these names; all of it if there are none.

    Names are taken in any letter case. A group that is named keeps what is in it. A name that is
    nobody's here leaves nothing. Where the layer to draw on first is not kept, it is the uppermost
    that is left to draw on.
    """
    if not names:
        return stack
    members = _kept(stack.members, _folded(names))
    empty = [layer for layer in all_layers(members) if not layer.shapes and not layer.locked]
    selected = next((layer for layer in empty if layer is stack.selected), next(iter(empty), None))
    return replace(stack, members=members, selected=selected)


def check_names(stacks: Iterable[Stack], names: Sequence[str]) -> None:
    """Raise `InputError` for names that no group or layer of any stack has."""
    if not names:
        return
    known = dict.fromkeys(m.name for stack in stacks for m in all_members(stack.members))
    folded = _folded(known)
    problems = [
        unknown("group or layer", name, known, argument="layers")
        for name in names
        if name.casefold() not in folded
    ]
    if problems:
        raise InputError(problems)


def _folded(names: Iterable[str]) -> frozenset[str]:
    return frozenset(name.casefold() for name in names)


def _kept(members: tuple[Layer | Group, ...], names: frozenset[str]) -> tuple[Layer | Group, ...]:
    kept: list[Layer | Group] = []
    for member in members:
        if member.name.casefold() in names:
            kept.append(member)
        elif isinstance(member, Group) and (inner := _kept(member.members, names)):
            kept.append(replace(member, members=inner))
    return tuple(kept)
