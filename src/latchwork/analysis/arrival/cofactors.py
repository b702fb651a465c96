"""Whether a bit depends on a pin: it is worked out with the pin low, with the pin high, and with the pin marked.

A mark alone reaches too far where the pin meets itself again: b or not b does not depend on b. So a mark falls away
in the lanes in which the bit is known, and the same, at both levels of the pin.
"""

from __future__ import annotations

from typing import NamedTuple

from latchwork.analysis.lanes import Algebra
from latchwork.analysis.levels import MARKED, Bit


class Cofactors(NamedTuple):
    """A bit while the pin is low, while it is high, and the lanes in which it may depend on it."""

    low: Bit
    high: Bit
    mark: int

    @property
    def either(self) -> Bit:
        """With the pin at any level."""
        return Bit(self.low.one | self.high.one, self.low.zero | self.high.zero, self.mark)


def alike(level: Bit) -> Cofactors:
    """A bit that does not depend on the pin."""
    return Cofactors(level, level, 0)


def _made(low: Bit, high: Bit, whole: Bit) -> Cofactors:
    """``whole``: with the mark that plain rules give."""
    same = ~(low.zero | high.zero) | ~(low.one | high.one)
    return Cofactors(low, high, whole.mark & ~same)


def _flip(a: Cofactors) -> Cofactors:
    return Cofactors(MARKED.flip(a.low), MARKED.flip(a.high), a.mark)


def _both(a: Cofactors, b: Cofactors) -> Cofactors:
    return _made(MARKED.both(a.low, b.low), MARKED.both(a.high, b.high), MARKED.both(a.either, b.either))


def _differ(a: Cofactors, b: Cofactors) -> Cofactors:
    return _made(MARKED.differ(a.low, b.low), MARKED.differ(a.high, b.high), MARKED.differ(a.either, b.either))


def _choose(s: Cofactors, yes: Cofactors, no: Cofactors) -> Cofactors:
    low, high = MARKED.choose(s.low, yes.low, no.low), MARKED.choose(s.high, yes.high, no.high)
    return _made(low, high, MARKED.choose(s.either, yes.either, no.either))


def _majority(a: Cofactors, b: Cofactors, c: Cofactors) -> Cofactors:
    low, high = MARKED.majority(a.low, b.low, c.low), MARKED.majority(a.high, b.high, c.high)
    return _made(low, high, MARKED.majority(a.either, b.either, c.either))


COFACTORS: Algebra[Cofactors] = Algebra(
    fixed=lambda full, level: alike(MARKED.fixed(full, level)),
    open=lambda full: alike(MARKED.open(full)),
    never=lambda a, full: not a.low.one | a.high.one,
    flip=_flip,
    both=_both,
    differ=_differ,
    choose=_choose,
    majority=_majority,
)
