"""What a row needs of one component of lines: for each line the outside levels under which it must be 1 or 0."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from latchwork.analysis.lanes import variables
from latchwork.analysis.lines import Component
from latchwork.languages.microprogram.lowering.wishes import Case, Cube, Wish

Needs = tuple[tuple[int, int], ...]
"""For each line of the component: the lanes of its outside levels that need a 1, and those that need a 0."""


@dataclass(frozen=True)
class Circumstances:
    """What is known where a row acts: ``conditions`` that its address holds, and ``opcodes`` that it serves (None:
    all of them)."""

    conditions: Cube = ()
    opcodes: frozenset[int] | None = None


def needs_of(component: Component, wish: Wish, rest: Mapping[str, int | None], where: Circumstances) -> Needs:
    """What a row needs of the component's word bits."""
    lanes = _Lanes(component, where)
    ones, zeros = ([0] * len(component.lines) for _ in range(2))
    for case in cases_at(wish, where.conditions):
        under = lanes.under(case, where)
        levels = dict(case.levels)
        for place, line in enumerate(component.lines):
            level = levels.get(line.name, rest[line.name])
            if level is not None:
                (ones if level else zeros)[place] |= under
    return tuple(zip(ones, zeros, strict=True))


def cases_at(wish: Wish, known: Cube) -> list[Case]:
    """The cases that do not go against known conditions."""
    levels = dict(known)
    return [case for case in wish.cases if all(levels.get(name, level) == level for name, level in case.conditions)]


def together(needs: Iterable[Needs]) -> Needs:
    """The needs of several rows whose words must be equal."""
    result: list[tuple[int, int]] = []
    for each in needs:
        pairs = zip(result, each, strict=True) if result else (((0, 0), need) for need in each)
        result = [(a[0] | b[0], a[1] | b[1]) for a, b in pairs]
    return tuple(result)


class _Lanes:
    def __init__(self, component: Component, where: Circumstances) -> None:
        self._outside = dict(zip(component.outside, variables(len(component.outside)), strict=True))
        self._all = (1 << (1 << len(component.outside))) - 1
        self._names = {role.name: role for role in component.outside if role.kind == "condition"}
        self._allowed = self._served(where)

    def _served(self, where: Circumstances) -> int:
        """The lanes in which the opcode bits are those of an opcode that the row serves."""
        bits = [role for role in self._outside if role.kind == "opcode"]
        if where.opcodes is None or not bits:
            return self._all
        result = 0
        for pattern in {tuple(code >> role.index & 1 for role in bits) for code in where.opcodes}:
            lanes = self._all
            for role, level in zip(bits, pattern, strict=True):
                lanes &= self._outside[role][0 if level else 1]
            result |= lanes
        return result

    def under(self, case: Case, where: Circumstances) -> int:
        """The lanes of a case. Conditions that the address holds are chosen there, at an earlier clock maybe, so
        that here they may have either level."""
        known = {name for name, _ in where.conditions}
        lanes = self._allowed
        for name, level in case.conditions:
            role = self._names.get(name)
            if role is not None and name not in known:
                lanes &= self._outside[role][0 if level == role.level else 1]
        return lanes
