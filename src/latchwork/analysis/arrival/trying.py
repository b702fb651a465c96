"""Whether a bit depends on a pin, by trying all levels of the chip's other pins.

An adder that doubles its first operand makes a and b, or a and not b, of both: it does not depend on the second, but
no rule for single gates sees that. Where a pin goes both ways into a bit, and few other pins are unknown, every choice
of their levels is tried: lane by lane, choice by choice, all in one walk.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from latchwork.analysis.arrival.cofactors import COFACTORS, Cofactors, alike
from latchwork.analysis.arrival.senses import signs
from latchwork.analysis.lanes import Evaluation
from latchwork.analysis.levels import Bit, Lanes, Leaf, enumerated, folded, repeated
from latchwork.logic import Expression
from latchwork.netlist import ChipId
from latchwork.netlist.netlist import NO_NET

MOST_PINS = 9
"""Pins whose levels are tried: 2 ** 9 choices."""


class Trying:
    def __init__(self, lanes: Lanes) -> None:
        self._lanes, self._width = lanes, lanes.all.bit_length()
        self._known_choices: dict[int, list[Bit]] = {}
        self._walks: dict[tuple[ChipId, int, tuple[int, ...]], Evaluation[Cofactors]] = {}

    def narrowed(self, chip: ChipId, pin: int, what: tuple[Expression, int], mark: int) -> int:
        """The lanes of ``mark`` in which a bit of an expression truly depends on a pin."""
        ports = self._lanes.netlist.part_of(chip).ports
        pins: dict[int, frozenset[int]] = {}
        for place, both in signs(*what).items():
            if place.name in ports:
                at = ports[place.name][place.bit]
                pins[at] = pins.get(at, frozenset()) | both
        if len(pins.get(pin, ())) < 2:
            return mark
        unknown = tuple(at for at in sorted(pins) if at != pin and self._unknown(chip, at) & mark)
        if not 0 < len(unknown) <= MOST_PINS:
            return mark
        key = (chip, pin, unknown)
        if key not in self._walks:
            source = _Tried(self._lanes, (chip, pin), dict(zip(unknown, self._choices(len(unknown)), strict=True)))
            self._walks[key] = Evaluation(source.full, source, COFACTORS)
        return mark & folded(self._walks[key].bit(*what).mark, self._width, 1 << len(unknown))

    def _choices(self, count: int) -> list[Bit]:
        """All choices of levels for so many pins."""
        if count not in self._known_choices:
            leaves = [Leaf("pin", number) for number in range(count)]
            self._known_choices[count] = list(enumerated(leaves, self._width).values())
        return self._known_choices[count]

    def _unknown(self, chip: ChipId, pin: int) -> int:
        net = self._lanes.netlist.chips[chip].pins[pin]
        if net == NO_NET:
            return 0
        level = self._lanes.net(net)
        return level.one & level.zero


class _Tried:
    """A chip's inside while one of its pins moves, in every lane under every choice of levels for others."""

    def __init__(self, lanes: Lanes, moving: tuple[ChipId, int], choices: Mapping[int, Bit]) -> None:
        self._lanes, self._choices = lanes, choices
        self._chip, self._pin = moving
        self._ports = lanes.netlist.part_of(self._chip).ports
        self._width, self._times = lanes.all.bit_length(), 1 << len(choices)
        self.full = repeated(lanes.all, self._width, self._times)

    def variable(self, name: str, bit: int) -> Cofactors:
        at = self._ports[name][bit] if name in self._ports else -1
        if at >= 0 and at == self._pin:
            return Cofactors(Bit(0, self.full), Bit(self.full, 0), self.full)
        level = self._repeated(self._lanes.variable(self._chip, name, bit))
        choice = self._choices.get(at)
        if at < 0 or choice is None:
            return alike(level)
        open_ = level.one & level.zero
        return alike(Bit(level.one & ~open_ | choice.one & open_, level.zero & ~open_ | choice.zero & open_))

    def _repeated(self, level: Bit) -> Bit:
        return Bit(*(repeated(value, self._width, self._times) for value in (level.one, level.zero)))

    def memory(self, read: Expression, address: Callable[[], Sequence[Cofactors]], bit: int) -> Cofactors:
        mark = 0
        for level in address():
            mark |= level.mark
        return Cofactors(Bit(self.full, self.full), Bit(self.full, self.full), mark)
