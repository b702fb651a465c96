"""Lists that only grow, one shared by every moment that is saved: a moment keeps the last link, and so all before it.

Going back and then forward again finds every moment as it was, whatever was added in between.
"""

from __future__ import annotations

from typing import Generic, NamedTuple, TypeVar

Item = TypeVar("Item")


class Trail(NamedTuple, Generic[Item]):
    """One item and the trail before it; None is an empty trail."""

    last: Item
    before: Trail[Item] | None


def listed(trail: Trail[Item] | None) -> list[Item]:
    """The items, first to last."""
    found = []
    while trail is not None:
        found.append(trail.last)
        trail = trail.before
    return found[::-1]
