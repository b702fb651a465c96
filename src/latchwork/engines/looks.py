"""What somebody who looks at a machine would not want to miss, so that the clocks without it may run by unseen.

It may say too much: what it names is looked at closely then, tick by tick. It may not say too little.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from latchwork.netlist import NetId

Conditions = tuple[tuple[tuple[NetId, ...], int], ...]


class Looks(NamedTuple):
    """A tick at whose end one of ``changing`` has changed, or one of the ``conditions`` (nets, number) holds."""

    changing: tuple[NetId, ...] = ()
    conditions: Conditions = ()


EVERYTHING: Looks | None = None
"""There is no saying; every tick has to be looked at."""


def together(several: Iterable[Looks | None]) -> Looks | None:
    """What any of them would not miss."""
    changing, conditions = dict[NetId, None](), dict[tuple[tuple[NetId, ...], int], None]()
    for looks in several:
        if looks is None:
            return None
        changing.update(dict.fromkeys(looks.changing))
        conditions.update(dict.fromkeys(looks.conditions))
    return Looks(tuple(changing), tuple(conditions))
