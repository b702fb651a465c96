"""Conditions of a step's branches: which branch holds when, whether one does in every case, and in which cases.

All cases of the flags a step asks about are gone through; a step may ask about ``MOST_FLAGS``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from latchwork.languages.microprogram.tree import AllOf, AnyOf, Condition, Flag, NotFlag, Word

MOST_FLAGS = 8
Case = tuple[int, ...]  # a level for each flag, in the order of the flags
Cube = tuple[tuple[str, int], ...]  # flags that matter with their levels


def flags(condition: Condition) -> Iterator[Word]:
    """The flags that a condition names, from left to right."""
    match condition:
        case Flag(name):
            yield name
        case NotFlag(inner):
            yield from flags(inner)
        case AllOf(inner) | AnyOf(inner):
            for each in inner:
                yield from flags(each)


def holds(condition: Condition, levels: dict[str, int]) -> bool:
    """Whether a condition is true; ``levels`` has a level by each flag's text as it is written."""
    match condition:
        case Flag(name):
            return bool(levels[name.text])
        case NotFlag(inner):
            return not holds(inner, levels)
        case AllOf(inner):
            return all(holds(each, levels) for each in inner)
        case AnyOf(inner):
            return any(holds(each, levels) for each in inner)


def cases(count: int) -> list[Case]:
    """All levels of so many flags."""
    return list(product((0, 1), repeat=count))


def cubes(names: Sequence[str], wanted: frozenset[Case]) -> list[Cube]:
    """Conjunctions that exclude each other and together hold in exactly the ``wanted`` cases."""
    if not wanted:
        return []
    if len(wanted) == 2 ** len(names):
        return [()]
    halves = [frozenset(case[1:] for case in wanted if case[0] == level) for level in (0, 1)]
    if halves[0] == halves[1]:
        return cubes(names[1:], halves[0])
    return [((names[0], level), *rest) for level in (1, 0) for rest in cubes(names[1:], halves[level])]


def case_in_words(names: Sequence[str], case: Case) -> str:
    """``carry = 1 and zero = 0``"""
    return " and ".join(f"{name} = {level}" for name, level in zip(names, case, strict=True))
