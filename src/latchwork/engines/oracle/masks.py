"""What a net may carry, as a set written in three bits."""

from __future__ import annotations

from collections.abc import Iterable

from latchwork.engines.protocol import Value

LOW, HIGH, OFF = 1, 2, 4
EITHER = LOW | HIGH
VALUES = tuple({LOW: Value.LOW, HIGH: Value.HIGH, OFF: Value.NOTHING}.get(mask, Value.UNKNOWN) for mask in range(8))


def level_mask(level: int) -> int:
    return HIGH if level else LOW


def combined(masks: Iterable[int]) -> int:
    """What several sources on one net make of it: each level that one of them may give, nothing if all may."""
    any_of, all_of = 0, OFF
    for mask in masks:
        any_of |= mask
        all_of &= mask
    return any_of & EITHER | all_of
