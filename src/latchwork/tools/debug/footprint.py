"""How much memory a saved moment takes, beyond what it shares with the one before."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import fields, is_dataclass

_PLAIN = (int, float, str, bytes, bool, type(None))


def footprint(saved: object, known: set[int]) -> tuple[int, set[int]]:
    """Bytes of all objects that are not among ``known`` (by identity), and the identities of all. Small numbers are
    shared by the whole program and count nothing."""
    total, seen, waiting = 0, set(), [saved]
    while waiting:
        item = waiting.pop()
        if id(item) in seen or _is_small(item):
            continue
        seen.add(id(item))
        if id(item) not in known:
            total += sys.getsizeof(item)
        waiting.extend(_parts(item))
    return total, seen


def _is_small(item: object) -> bool:
    return item is None or (isinstance(item, int) and -5 <= item <= 256)


def _parts(item: object) -> Iterable[object]:
    if isinstance(item, _PLAIN):
        return ()
    if isinstance(item, dict):
        return [*item.keys(), *item.values()]
    if isinstance(item, (tuple, list, set, frozenset)):
        return item
    if is_dataclass(item):
        return [getattr(item, field.name) for field in fields(item)]
    return ()
