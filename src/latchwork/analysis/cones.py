"""What a net depends on through gates, buffers and selectors, back to states, memories, switches and open ends."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from latchwork.analysis.settle import Combinational, StateBit
from latchwork.logic import Expression, Operation
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Latch, TieKind


@dataclass(frozen=True)
class Cone:
    """``nets``: those at which the search stopped because it was told to. ``states``: registers, latches and timers.
    ``memories``: chips whose contents are read. ``switches``: (chip, tie). ``undriven``: nets that nothing drives.
    ``through``: all nets on the way, the first one included. ``chips``: those passed through."""

    nets: frozenset[NetId]
    states: frozenset[StateBit]
    memories: frozenset[ChipId]
    switches: frozenset[tuple[ChipId, str]]
    undriven: frozenset[NetId]
    through: frozenset[NetId]
    chips: frozenset[ChipId]


def cone(whole: Combinational, targets: Iterable[NetId], cuts: Collection[NetId] = ()) -> Cone:
    """The fan-in of nets. Facts (rails, assumptions) end it without being named; ``cuts`` end it and are named."""
    search = _Search(whole, cuts)
    search.run(("net", net) for net in targets)
    return search.found()


def expression_cone(
    whole: Combinational, chip: ChipId, bits: Iterable[tuple[Expression, int]], cuts: Collection[NetId] = ()
) -> Cone:
    """The fan-in of bits of expressions that belong to a chip."""
    search = _Search(whole, cuts)
    search.run(("bit", chip, expression, bit) for expression, bit in bits)
    return search.found()


def support(expression: Expression, bit: int) -> Iterator[tuple[Expression, int]]:
    """Variables (with bit) and reads that a bit of an expression is made from."""
    seen: set[tuple[Expression, int]] = set()
    waiting = [(expression, bit)]
    while waiting:
        node, index = waiting.pop()
        if (node, index) in seen:
            continue
        seen.add((node, index))
        if node.operation in (Operation.VARIABLE, Operation.READ):
            yield node, index
        waiting += _parts(node, index)


def _parts(node: Expression, index: int) -> list[tuple[Expression, int]]:
    args = node.args
    match node.operation:
        case Operation.NOT | Operation.AND | Operation.OR | Operation.XOR:
            return [(argument, index) for argument in args]
        case Operation.ADD:
            return [(argument, at) for argument in args for at in range(index + 1)]
        case Operation.MUX:
            return [(args[0], 0), (args[1], index), (args[2], index)]
        case Operation.SLICE:
            return [(args[0], index + int(node.data))]  # type: ignore[arg-type]
        case Operation.REPLICATE:
            return [(args[0], 0)]
        case Operation.CONCAT:
            for argument in args:
                if index < argument.width:
                    return [(argument, index)]
                index -= argument.width
            return []
        case Operation.CASE:
            return [*_all_bits(args[0]), *((argument, index) for argument in args[1:])]
        case _:
            return [pair for argument in args for pair in _all_bits(argument)]


def _all_bits(node: Expression) -> list[tuple[Expression, int]]:
    return [(node, at) for at in range(node.width)]


class _Search:
    def __init__(self, whole: Combinational, cuts: Collection[NetId]) -> None:
        self._whole = whole
        self._netlist = whole.netlist
        self._cuts = frozenset(cuts)
        self._seen: set[object] = set()
        self._nets: set[NetId] = set()
        self._states: set[StateBit] = set()
        self._memories: set[ChipId] = set()
        self._switches: set[tuple[ChipId, str]] = set()
        self._undriven: set[NetId] = set()
        self._through: set[NetId] = set()
        self._chips: set[ChipId] = set()

    def found(self) -> Cone:
        parts = (self._nets, self._states, self._memories, self._switches, self._undriven, self._through, self._chips)
        return Cone(*(frozenset(part) for part in parts))  # type: ignore[arg-type]

    def run(self, start: Iterable[tuple[object, ...]]) -> None:
        waiting = list(start)
        while waiting:
            item = waiting.pop()
            if item in self._seen:
                continue
            self._seen.add(item)
            if item[0] == "net":
                waiting += self._at_net(item[1])  # type: ignore[arg-type]
            else:
                waiting += self._at_bit(*item[1:])  # type: ignore[arg-type]

    def _at_net(self, net: NetId) -> list[tuple[object, ...]]:
        if net in self._cuts:
            self._nets.add(net)
            return []
        if net in self._whole.facts:
            return []
        self._through.add(net)
        found = self._drives(net) + self._ties(net)
        if not found:
            self._undriven.add(net)
        return found

    def _drives(self, net: NetId) -> list[tuple[object, ...]]:
        found: list[tuple[object, ...]] = []
        for driver in self._whole.drivers_of(net):
            drive = self._netlist.part_of(driver.chip).behaviour.drives[driver.drive]
            found.append(("bit", driver.chip, drive.value, driver.bit))
            if drive.enable is not None:
                found.append(("bit", driver.chip, drive.enable, 0))
        return found

    def _ties(self, net: NetId) -> list[tuple[object, ...]]:
        found: list[tuple[object, ...]] = []
        for touch in self._whole.touches.get(net, ()):
            found.append(("net", touch.other))
            if touch.kind is TieKind.SWITCH and (touch.chip, touch.tie) not in self._whole.closed:
                self._switches.add((touch.chip, touch.tie))
        return found

    def _at_bit(self, chip: ChipId, expression: Expression, bit: int) -> list[tuple[object, ...]]:
        self._chips.add(chip)
        found: list[tuple[object, ...]] = []
        for node, index in support(expression, bit):
            if node.operation is Operation.READ:
                self._memories.add(chip)
            else:
                found += self._at_variable(chip, str(node.data), index)
        return found

    def _at_variable(self, chip: ChipId, name: str, bit: int) -> list[tuple[object, ...]]:
        part = self._netlist.part_of(chip)
        if name in part.ports:
            net = self._netlist.chips[chip].pins[part.ports[name][bit]]
            return [] if net == NO_NET else [("net", net)]
        self._states.add(StateBit(chip, name, bit))
        return self._levels(chip, name, bit)

    def _levels(self, chip: ChipId, name: str, bit: int) -> list[tuple[object, ...]]:
        """What a level set, a level clear or an open latch lets through."""
        item = self._whole.held.get((chip, name))
        if not isinstance(item, Latch):
            return []
        return [("bit", chip, item.enable, 0), ("bit", chip, item.data, bit)]
