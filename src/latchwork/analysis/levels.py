"""Levels of nets in many cases at once.

Each case is a *lane*: one bit of a large whole number. A level is three such numbers: the lanes in which it may be 1,
those in which it may be 0 (both: unknown), and those in which it may depend on a marked net. Plain logic on the numbers
works out all lanes together, so every control word in both clock levels under every choice of some unknown bits is one
walk over the gates. What the operations mean is ``lanes.Evaluation``'s; the walk and the marks are added here. What is
called 0 or 1 is so; marks are never lost, but may reach too far where a level is unknown.

The walk stops at *leaves*: bits of registers, latches and memories, switches, buses that several outputs share, and
nets that feed themselves. A leaf without a given level is unknown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from latchwork.analysis.depth import deep
from latchwork.analysis.lanes import Algebra, Evaluation
from latchwork.analysis.wiring import Wiring
from latchwork.logic import Expression
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import Driver
from latchwork.parts import OutputKind


class Bit(NamedTuple):
    """A level in every lane."""

    one: int
    zero: int
    mark: int = 0


class Leaf(NamedTuple):
    """Where the walk stops. ``kind`` "net": ``place`` is a net. "state": bit ``bit`` of the state ``name`` of chip
    ``place``. "read": bit ``bit`` of what a memory of the chip shows."""

    kind: str
    place: int
    name: str = ""
    bit: int = 0


@dataclass(frozen=True)
class Given:
    """What is known beforehand: levels of nets and leaves, marks of nets, and the bytes of ROMs."""

    nets: Mapping[NetId, Bit] = field(default_factory=dict)
    leaves: Mapping[Leaf, Bit] = field(default_factory=dict)
    marks: Mapping[NetId, int] = field(default_factory=dict)
    contents: Mapping[ChipId, bytes] = field(default_factory=dict)


NOTHING_GIVEN = Given()
LARGEST_ROM = 13  # address bits up to which a ROM's contents are looked into


class Lanes:
    """Levels in ``count`` lanes. ``met``: leaves and given nets that the walks came upon so far."""

    def __init__(self, wiring: Wiring, count: int = 1, given: Given = NOTHING_GIVEN) -> None:
        self.wiring, self.netlist, self.given = wiring, wiring.netlist, given
        self.all = (1 << count) - 1
        self.met: set[Leaf] = set()
        self._nets: dict[NetId, Bit | None] = {}
        self._chips: dict[ChipId, Evaluation[Bit]] = {}

    def constant(self, level: int) -> Bit:
        return Bit(self.all, 0) if level else Bit(0, self.all)

    @property
    def unknown(self) -> Bit:
        return Bit(self.all, self.all)

    @property
    def walked(self) -> frozenset[NetId]:
        """The nets that the walks came along."""
        return frozenset(self._nets)

    def net(self, net: NetId) -> Bit:
        """The level of a net."""
        if net not in self._nets:
            self._nets[net] = None
            with deep():
                self._nets[net] = self._marked(net, self._net(net))
        found = self._nets[net]
        return self._leaf(Leaf("net", net)) if found is None else found

    def _marked(self, net: NetId, level: Bit) -> Bit:
        mark = self.given.marks.get(net, 0)
        return Bit(level.one | mark, level.zero | mark, level.mark | mark) if mark else level

    def _net(self, net: NetId) -> Bit:
        if net in self.given.nets:
            self.met.add(Leaf("net", net))
            return self.given.nets[net]
        if net in self.wiring.levels:
            return self.constant(self.wiring.levels[net])
        found = self.wiring.drivers[net]
        held = self.wiring.holders[net]
        if held.switches or held.keepers or (held.series and not found):
            return self._leaf(Leaf("net", net))
        if not found:
            return self._pulled(net)
        return self._driven(net, found)

    def _pulled(self, net: NetId) -> Bit:
        levels = {level for _, level in self.wiring.holders[net].pulls}
        return self.constant(levels.pop()) if len(levels) == 1 else self._leaf(Leaf("net", net))

    def _driven(self, net: NetId, found: tuple[Driver, ...]) -> Bit:
        kinds = {self.wiring.kind(driver) for driver in found}
        if kinds == {OutputKind.OPEN_COLLECTOR} and any(level for _, level in self.wiring.holders[net].pulls):
            return self.all_high(found)
        if len(found) == 1 and (kinds == {OutputKind.PUSH_PULL} or self.enable(found[0]).zero == 0):
            return self.value(found[0])
        return self._leaf(Leaf("net", net))

    def value(self, driver: Driver) -> Bit:
        """The level that a driver has to show."""
        return self.bit(driver.chip, self.wiring.drive(driver).value, driver.bit)

    def enable(self, driver: Driver) -> Bit:
        """Where a driver drives: always, while enabled, or while an open collector pulls low."""
        drive = self.wiring.drive(driver)
        if drive.kind is OutputKind.OPEN_COLLECTOR:
            return inverted(self.value(driver))
        return self.constant(1) if drive.enable is None else self.bit(driver.chip, drive.enable, 0)

    def all_high(self, found: tuple[Driver, ...]) -> Bit:
        """The level of a pulled net that some open collectors share."""
        result = self.constant(1)
        for driver in found:
            result = both(result, self.value(driver))
        return result

    def _leaf(self, leaf: Leaf) -> Bit:
        self.met.add(leaf)
        return self.given.leaves.get(leaf, self.unknown)

    def bit(self, chip: ChipId, node: Expression, index: int) -> Bit:
        """A bit of an expression over the ports and states of a chip."""
        inside = self._chips.get(chip)
        if inside is None:
            inside = self._chips[chip] = Evaluation(self.all, _Inside(self, chip), MARKED)
        return inside.bit(node, index)

    def variable(self, chip: ChipId, name: str, index: int) -> Bit:
        """A bit of a port or a state of a chip."""
        ports = self.netlist.part_of(chip).ports
        if name not in ports:
            return self._leaf(Leaf("state", chip, name, index))
        net = self.netlist.chips[chip].pins[ports[name][index]]
        if net != NO_NET:
            return self.net(net)
        return self.unknown if self.wiring.floats(chip) else self.constant(1)

    def read(self, chip: ChipId, node: Expression, address: Callable[[], Sequence[Bit]], index: int) -> Bit:
        """A bit of what a memory of the chip shows."""
        content, width = self.given.contents.get(chip), node.args[0].width
        if content is None or width > LARGEST_ROM or node.width != 8:
            return self._leaf(Leaf("read", chip, str(node.data), index))
        column = bytes(byte >> index & 1 for byte in content.ljust(1 << width, b"\xff"))
        return self._looked_up(column, address(), {})

    def _looked_up(self, column: bytes, address: Sequence[Bit], done: dict[bytes, Bit]) -> Bit:
        """The entry at an address, one address bit a halving, equal halves only once."""
        if column.count(column[0]) == len(column):
            return self.constant(column[0])
        if column not in done:
            half = len(column) // 2
            top, rest = address[len(column).bit_length() - 2], (column[half:], column[:half])
            if not top.zero:
                done[column] = self._looked_up(rest[0], address, done)
            elif not top.one:
                done[column] = self._looked_up(rest[1], address, done)
            else:
                yes, no = (self._looked_up(part, address, done) for part in rest)
                done[column] = picked(top, yes, no)
        return done[column]


class _Inside:
    """A chip's ports, states and memories as its expressions read them."""

    def __init__(self, lanes: Lanes, chip: ChipId) -> None:
        self._lanes, self._chip = lanes, chip

    def variable(self, name: str, bit: int) -> Bit:
        return self._lanes.variable(self._chip, name, bit)

    def memory(self, read: Expression, address: Callable[[], Sequence[Bit]], bit: int) -> Bit:
        return self._lanes.read(self._chip, read, address, bit)


def inverted(a: Bit) -> Bit:
    return Bit(a.zero, a.one, a.mark)


def both(a: Bit, b: Bit) -> Bit:
    return Bit(a.one & b.one, a.zero | b.zero, a.mark & b.one | b.mark & a.one)


def differ(a: Bit, b: Bit) -> Bit:
    return Bit(a.one & b.zero | a.zero & b.one, a.one & b.one | a.zero & b.zero, a.mark | b.mark)


def picked(select: Bit, yes: Bit, no: Bit) -> Bit:
    """``yes`` where ``select`` is 1. Where both are alike it does not matter."""
    one = select.one & yes.one | select.zero & no.one
    zero = select.one & yes.zero | select.zero & no.zero
    return Bit(one, zero, select.mark & _apart(yes, no) | select.one & yes.mark | select.zero & no.mark)


def most(a: Bit, b: Bit, c: Bit) -> Bit:
    """What two of three bits are."""
    one = a.one & b.one | a.one & c.one | b.one & c.one
    zero = a.zero & b.zero | a.zero & c.zero | b.zero & c.zero
    return Bit(one, zero, a.mark & _apart(b, c) | b.mark & _apart(a, c) | c.mark & _apart(a, b))


def _apart(a: Bit, b: Bit) -> int:
    """The lanes in which the two may be unlike."""
    return a.one & b.zero | a.zero & b.one


MARKED: Algebra[Bit] = Algebra(
    fixed=lambda full, level: Bit(full, 0) if level else Bit(0, full),
    open=lambda full: Bit(0, 0),
    never=lambda a, full: not a.one,
    flip=inverted,
    both=both,
    differ=differ,
    choose=picked,
    majority=most,
)


def enumerated(leaves: Iterable[Leaf], lanes: int) -> dict[Leaf, Bit]:
    """Every choice of levels for the leaves, in so many lanes each: lane ``n`` is case ``n % lanes`` under choice
    ``n // lanes``, in which leaf ``i`` has bit ``i`` of the choice."""
    found = {}
    order = list(leaves)
    whole = (1 << (lanes << len(order))) - 1
    for number, leaf in enumerate(order):
        run = lanes << number
        one = whole // ((1 << 2 * run) - 1) * (((1 << run) - 1) << run)
        found[leaf] = Bit(one, whole ^ one)
    return found


def repeated(value: int, lanes: int, times: int) -> int:
    """The pattern of ``lanes`` lanes, once for each of ``times`` choices."""
    return value * (((1 << lanes * times) - 1) // ((1 << lanes) - 1))


def folded(value: int, lanes: int, choices: int) -> int:
    """The lanes that are 1 under some choice; ``choices`` is a power of two."""
    while choices > 1:
        choices //= 2
        half = lanes * choices
        value = value >> half | value & ((1 << half) - 1)
    return value


def set_lanes(value: int) -> list[int]:
    """Numbers of the lanes that are 1, lowest first."""
    found = []
    while value:
        lowest = value & -value
        found.append(lowest.bit_length() - 1)
        value ^= lowest
    return found
