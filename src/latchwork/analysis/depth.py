"""Room for questions that run through long chains of chips."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

_DEPTH = 50_000


@contextmanager
def deep() -> Iterator[None]:
    """Calls may nest as deep as a chain of some thousand chips asks for."""
    before = sys.getrecursionlimit()
    if before >= _DEPTH:
        yield
        return
    sys.setrecursionlimit(_DEPTH)
    try:
        yield
    finally:
        sys.setrecursionlimit(before)
