"""Insets of 100 × 80 pixels on a page of one panel, (60, 60, 580, 780)."""

from typing import Any

SIZE = {"width": "100 px", "height": "80 px"}


def inset(**keys: Any) -> dict[str, Any]:
    """A table of an inset of 100 × 80 pixels over panel 1, in a corner unless it says where."""
    place = {} if "at" in keys else {"corner": "top-left"}
    return {"over": 1} | SIZE | place | keys


def splash(*insets: dict[str, Any], **keys: Any) -> dict[str, Any]:
    """A page of one panel with insets."""
    return {"panels": "splash", "insets": insets} | keys
