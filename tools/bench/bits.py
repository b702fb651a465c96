"""A netlist bit by bit: every net and every state bit an expression of and, or, xor, not and reads of memories.

For the bench only. It is written from the parts' behaviour alone and shares nothing with the compiled engine but the
tables of the wiring, so that it is a second opinion as well. Nothing is simplified; equal nodes of one chip are one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from latchwork.engines.oracle.wiring import Wiring, state_names
from latchwork.logic import Expression, Operation
from latchwork.netlist import ChipId


@dataclass(frozen=True, eq=False)
class Bit:
    """``operation``: "0", "1", "net", "slot", "not", "and", "or", "xor", "read". ``where``: the number of a net, slot
    or store, and the bit of the slot or of the word read. ``args`` of a read are its address, lowest bit first."""

    operation: str
    args: tuple[Bit, ...] = ()
    where: tuple[int, int] = (0, 0)


ZERO, ONE = Bit("0"), Bit("1")


def invert(a: Bit) -> Bit:
    return Bit("not", (a,))


def gather(operation: str, bits: Sequence[Bit]) -> Bit:
    return bits[0] if len(bits) == 1 else Bit(operation, tuple(bits))


class Blaster:
    """The expressions of one chip as bits. ``group``: the net that each net goes by."""

    def __init__(self, wiring: Wiring, group: list[int], chip: ChipId) -> None:
        self._wiring = wiring
        self._group = group
        self._chip = chip
        self._states = state_names(wiring.netlist.part_of(chip))
        self._done: dict[Expression, list[Bit]] = {}

    def bits(self, node: Expression) -> list[Bit]:
        """Lowest first."""
        if node not in self._done:
            self._done[node] = self._blasted(node)
        return self._done[node]

    def _blasted(self, node: Expression) -> list[Bit]:
        args = [self.bits(arg) for arg in node.args]
        match node.operation:
            case Operation.CONSTANT:
                assert isinstance(node.data, int)
                return [ONE if node.data >> bit & 1 else ZERO for bit in range(node.width)]
            case Operation.VARIABLE:
                return self._variable(str(node.data), node.width)
            case Operation.NOT:
                return [invert(bit) for bit in args[0]]
            case Operation.AND | Operation.OR | Operation.XOR:
                return [gather(node.operation.value, column) for column in zip(*args, strict=True)]
            case Operation.ADD:
                return _sum(args)
            case Operation.MUX:
                return _chosen(args[0][0], args[1], args[2])
            case Operation.CONCAT:
                return [bit for arg in args for bit in arg]
            case Operation.SLICE:
                assert isinstance(node.data, int)
                return args[0][node.data : node.data + node.width]
            case Operation.REPLICATE:
                return args[0] * node.width
            case Operation.EQUAL:
                return [_equal(args[0], args[1])]
            case Operation.LESS:
                return [_less(args[0], args[1])]
            case Operation.CASE:
                assert isinstance(node.data, tuple)
                return _case(args[0], node.data, args[1:])
            case Operation.READ:
                store = self._wiring.store_named[self._chip, str(node.data)]
                return [Bit("read", tuple(args[0]), (store, bit)) for bit in range(node.width)]

    def _variable(self, name: str, width: int) -> list[Bit]:
        if name in self._states:
            slot = self._wiring.slot_named[self._chip, name]
            return [Bit("slot", (), (slot, bit)) for bit in range(width)]
        return [Bit("net", (), (self._group[net], 0)) for net in self._wiring.port(self._chip, name)]


def _sum(words: list[list[Bit]]) -> list[Bit]:
    total = words[0]
    for word in words[1:]:
        carry, result = ZERO, []
        for a, b in zip(total, word, strict=True):
            result.append(Bit("xor", (a, b, carry)))
            carry = Bit("or", (Bit("and", (a, b)), Bit("and", (carry, Bit("or", (a, b))))))
        total = result
    return total


def _chosen(select: Bit, yes: list[Bit], no: list[Bit]) -> list[Bit]:
    other = invert(select)
    pairs = zip(yes, no, strict=True)
    return [Bit("or", (Bit("and", (select, a)), Bit("and", (other, b)))) for a, b in pairs]


def _equal(a: list[Bit], b: list[Bit]) -> Bit:
    return gather("and", [invert(Bit("xor", pair)) for pair in zip(a, b, strict=True)])


def _less(a: list[Bit], b: list[Bit]) -> Bit:
    less = ZERO
    for x, y in zip(a, b, strict=True):
        less = Bit("or", (Bit("and", (invert(x), y)), Bit("and", (invert(Bit("xor", (x, y))), less))))
    return less


def _case(select: list[Bit], keys: tuple[int, ...], values: list[list[Bit]]) -> list[Bit]:
    inverted = [invert(bit) for bit in select]
    hits = [
        gather("and", [bit if key >> place & 1 else inverted[place] for place, bit in enumerate(select)])
        for key in keys
    ]
    hits.append(invert(gather("or", hits)))
    columns = zip(*values, strict=True)
    return [gather("or", [Bit("and", pair) for pair in zip(hits, column, strict=True)]) for column in columns]
