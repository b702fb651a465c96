"""Levels of nets in many cases at once.

Each case is a *lane*: one bit of a large whole number. A level is three such numbers: the lanes in which it may be 1,
those in which it may be 0 (both: unknown), and those in which it may depend on a marked net. Plain logic on the numbers
works out all lanes together, so every control word in both clock levels under every choice of some unknown bits is one
walk over the gates. What is called 0 or 1 is so; marks are never lost, but may reach too far where a level is unknown.

The walk stops at *leaves*: bits of registers, latches and memories, switches, buses that several outputs share, and
nets that feed themselves. A leaf without a given level is unknown.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from latchwork.analysis.wiring import Wiring
from latchwork.logic import Expression, Operation
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
        self._bits: dict[tuple[ChipId, Expression, int], Bit] = {}

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
        key = chip, node, index
        found = self._bits.get(key)
        if found is None:
            found = self._bits[key] = self._bit(chip, node, index)
        return found

    def _bit(self, chip: ChipId, node: Expression, index: int) -> Bit:
        args = node.args
        match node.operation:
            case Operation.CONSTANT:
                return self.constant(int(node.data) >> index & 1)  # type: ignore[arg-type]
            case Operation.VARIABLE:
                return self._variable(chip, str(node.data), index)
            case Operation.NOT:
                return inverted(self.bit(chip, args[0], index))
            case Operation.AND | Operation.OR | Operation.XOR:
                return self._many(chip, node, index)
            case Operation.ADD:
                return self._sum(chip, node, index)
            case Operation.MUX:
                return self._mux(chip, node, index)
            case Operation.CONCAT:
                return self._concat(chip, node, index)
            case Operation.SLICE:
                return self.bit(chip, args[0], index + int(node.data))  # type: ignore[arg-type]
            case Operation.REPLICATE:
                return self.bit(chip, args[0], 0)
            case Operation.EQUAL:
                return self._equal(chip, args[0], args[1])
            case Operation.LESS:
                return self._less(chip, args[0], args[1])
            case Operation.CASE:
                return self._case(chip, node, index)
            case Operation.READ:
                return self._read(chip, node, index)

    def _variable(self, chip: ChipId, name: str, index: int) -> Bit:
        ports = self.netlist.part_of(chip).ports
        if name not in ports:
            return self._leaf(Leaf("state", chip, name, index))
        net = self.netlist.chips[chip].pins[ports[name][index]]
        if net != NO_NET:
            return self.net(net)
        return self.unknown if self.wiring.floats(chip) else self.constant(1)

    def _many(self, chip: ChipId, node: Expression, index: int) -> Bit:
        result = self.bit(chip, node.args[0], index)
        for argument in node.args[1:]:
            if not (result.zero if node.operation is Operation.OR else result.one or node.operation is Operation.XOR):
                return result
            other = self.bit(chip, argument, index)
            if node.operation is Operation.AND:
                result = both(result, other)
            elif node.operation is Operation.OR:
                result = either(result, other)
            else:
                result = differ(result, other)
        return result

    def _mux(self, chip: ChipId, node: Expression, index: int) -> Bit:
        select, yes, no = node.args
        chosen = self.bit(chip, select, 0)
        if not chosen.zero:
            return self.bit(chip, yes, index)
        if not chosen.one:
            return self.bit(chip, no, index)
        return picked(chosen, self.bit(chip, yes, index), self.bit(chip, no, index))

    def _concat(self, chip: ChipId, node: Expression, index: int) -> Bit:
        for argument in node.args:
            if index < argument.width:
                return self.bit(chip, argument, index)
            index -= argument.width
        raise IndexError(index)

    def _sum(self, chip: ChipId, node: Expression, index: int) -> Bit:
        """Bit ``index`` of a sum, by carrying from the lowest bit up."""
        total = [self.bit(chip, node.args[0], place) for place in range(index + 1)]
        for argument in node.args[1:]:
            carry = self.constant(0)
            for place in range(index + 1):
                a, b = total[place], self.bit(chip, argument, place)
                total[place] = differ(differ(a, b), carry)
                carry = either(both(a, b), both(carry, either(a, b)))
        return total[index]

    def _equal(self, chip: ChipId, a: Expression, b: Expression) -> Bit:
        result = self.constant(1)
        for place in range(a.width):
            result = both(result, inverted(differ(self.bit(chip, a, place), self.bit(chip, b, place))))
            if not result.one:
                break
        return result

    def _less(self, chip: ChipId, a: Expression, b: Expression) -> Bit:
        result = self.constant(0)
        for place in range(a.width):
            x, y = self.bit(chip, a, place), self.bit(chip, b, place)
            result = picked(differ(x, y), y, result)
        return result

    def _case(self, chip: ChipId, node: Expression, index: int) -> Bit:
        assert isinstance(node.data, tuple)
        select = [self.bit(chip, node.args[0], place) for place in range(node.args[0].width)]
        none, result = self.constant(1), self.constant(0)
        for key, argument in zip(node.data, node.args[1:-1], strict=True):
            match = self._matches(select, key)
            if match.one:
                result = either(result, both(match, self.bit(chip, argument, index)))
                none = both(none, inverted(match))
        return either(result, both(none, self.bit(chip, node.args[-1], index))) if none.one else result

    def _matches(self, select: list[Bit], key: int) -> Bit:
        result = self.constant(1)
        for place, bit in enumerate(select):
            result = both(result, bit if key >> place & 1 else inverted(bit))
        return result

    def _read(self, chip: ChipId, node: Expression, index: int) -> Bit:
        content = self.given.contents.get(chip)
        address = node.args[0]
        if content is None or address.width > LARGEST_ROM or node.width != 8:
            return self._leaf(Leaf("read", chip, str(node.data), index))
        bits = [self.bit(chip, address, place) for place in range(address.width)]
        column = bytes(byte >> index & 1 for byte in content.ljust(1 << address.width, b"\xff"))
        return self._looked_up(column, bits, {})

    def _looked_up(self, column: bytes, address: list[Bit], done: dict[bytes, Bit]) -> Bit:
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


def inverted(a: Bit) -> Bit:
    return Bit(a.zero, a.one, a.mark)


def both(a: Bit, b: Bit) -> Bit:
    return Bit(a.one & b.one, a.zero | b.zero, a.mark & b.one | b.mark & a.one)


def either(a: Bit, b: Bit) -> Bit:
    return Bit(a.one | b.one, a.zero & b.zero, a.mark & b.zero | b.mark & a.zero)


def differ(a: Bit, b: Bit) -> Bit:
    return Bit(a.one & b.zero | a.zero & b.one, a.one & b.one | a.zero & b.zero, a.mark | b.mark)


def picked(select: Bit, yes: Bit, no: Bit) -> Bit:
    """``yes`` where ``select`` is 1. Where both are alike it does not matter."""
    one = select.one & yes.one | select.zero & no.one
    zero = select.one & yes.zero | select.zero & no.zero
    apart = (yes.one & no.zero) | (yes.zero & no.one)
    return Bit(one, zero, select.mark & apart | select.one & yes.mark | select.zero & no.mark)


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
