"""The control words of a machine's rows, put where the lines come from.

Where the words go through a control register, it holds a row's word, and what the store shows is unknown, since that
is the next word. Else the store shows the word, and its address nets stand at the row's address.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.levels import Bit, Given, Leaf
from latchwork.analysis.wiring import Wiring
from latchwork.logic import Expression, Operation
from latchwork.model import ControlProgram, Model, Row
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Part, Register

_Taken = frozenset[tuple[str, int] | None]  # (port, bit) that a bit is taken from, None: something worked out
CLEARED = "while the control register is cleared"


@dataclass(frozen=True)
class Situation:
    """A control word at work at one level of the main clock (-1 where it has none to do with it).

    ``rows``: those that look alike here. None in a machine without microprogram, and where ``what`` says more.
    """

    word: int = 0
    address: int = 0
    clock: int = -1
    rows: tuple[Row, ...] = ()
    what: str = ""


class ControlWords:
    def __init__(self, model: Model, wiring: Wiring) -> None:
        self.model, self.wiring, self.netlist = model, wiring, model.netlist
        self.control = model.control

    @cached_property
    def registered(self) -> dict[Leaf, int]:
        """Bits of control registers: where each is kept, and which bit of the word it is."""
        return {} if self.control is None else dict(self._registered())

    def _registered(self) -> Iterable[tuple[Leaf, int]]:
        for chip in range(len(self.netlist.chips)):
            part = self.netlist.part_of(chip)
            for register in part.behaviour.registers:
                for bit, place in self._word_bits(chip, part, register):
                    if not self._addresses_store(chip, part, register.name, bit):
                        yield Leaf("state", chip, register.name, bit), place

    def _word_bits(self, chip: ChipId, part: Part, register: Register) -> Iterable[tuple[int, int]]:
        """(bit of the register, bit of the word that it takes)."""
        assert self.control is not None
        pins = self.netlist.chips[chip].pins
        for bit in range(register.width):
            taken = taken_from(part, register, bit)
            source = next(iter(taken)) if len(taken) == 1 else None
            net = pins[part.ports[source[0]][source[1]]] if source else NO_NET
            if net in self.control.word_nets:
                yield bit, self.control.word_nets.index(net)

    def _addresses_store(self, chip: ChipId, part: Part, state: str, bit: int) -> bool:
        assert self.control is not None
        return any(net in self.control.address_nets for net in shown_on(self.wiring, chip, part, state, bit))

    @cached_property
    def word_at(self) -> dict[Leaf, int]:
        """Where the bits of the word at work stand."""
        if self.control is None:
            return {}
        return self.registered or {Leaf("net", net): bit for bit, net in enumerate(self.control.word_nets)}

    @cached_property
    def address_at(self) -> dict[Leaf, int]:
        if self.control is None or self.registered:
            return {}
        return {Leaf("net", net): bit for bit, net in enumerate(self.control.address_nets)}

    @cached_property
    def clock(self) -> Leaf:
        return Leaf("net", self.netlist.clock)

    @cached_property
    def contents(self) -> dict[ChipId, bytes]:
        """Bytes of ROMs that hold still while a program runs: tables, decoders; not the control store."""
        binding = self.model.statements.microprogram
        moving = {chip for space in self.model.statements.spaces for chip in space.chips}
        moving |= set(binding.store) if binding else set()
        return {chip: content for chip, content in self.model.contents.items() if chip not in moving}

    @cached_property
    def unknown(self) -> Given:
        """Everything that a situation will set, as unknown in one lane: to find what the walk comes upon."""
        leaves = {leaf: Bit(1, 1) for leaf in (*self.word_at, *self.address_at)}
        if self.netlist.clock != NO_NET:
            leaves[self.clock] = Bit(1, 1)
        return _given(leaves, self.contents)

    def situations(self, met: Iterable[Leaf]) -> list[Situation]:
        """All that differ in what the walk came upon."""
        met = set(met)
        words, addresses = (_bits(met, at) for at in (self.word_at, self.address_at))
        clocks = (0, 1) if self.clock in met and self.netlist.clock != NO_NET else (-1,)
        found = [
            Situation(word, address, clock, tuple(rows))
            for (word, address), rows in self._rows(words, addresses).items()
            for clock in clocks
        ]
        cleared = self.cleared(words) if self.registered else None
        if cleared is not None and cleared not in {situation.word for situation in found}:
            found += [Situation(cleared, 0, clock, (), CLEARED) for clock in clocks]
        return found

    def _rows(self, words: int, addresses: int) -> dict[tuple[int, int], list[Row]]:
        if self.control is None:
            return {(0, 0): []}
        found: dict[tuple[int, int], list[Row]] = {}
        for row in used_rows(self.control):
            for address in {address & addresses for address in row.addresses}:
                found.setdefault((row.word & words, address), []).append(row)
        return found

    def cleared(self, words: int) -> int | None:
        """The bits of ``words`` while the control register is cleared or set; None where something is not."""
        result = 0
        for leaf, bit in self.registered.items():
            if words >> bit & 1:
                level = self._level_of_clear(leaf)
                if level is None:
                    return None
                result |= level << bit
        return result

    def _level_of_clear(self, leaf: Leaf) -> int | None:
        register = next(item for item in self.netlist.part_of(leaf.place).behaviour.registers if item.name == leaf.name)
        for level in register.levels:
            if level.value.operation is Operation.CONSTANT:
                return int(level.value.data) >> leaf.bit & 1  # type: ignore[arg-type]
        return None

    def given(self, situations: Sequence[Situation]) -> Given:
        """One lane a situation."""
        found = {leaf: _bit([item.word >> bit & 1 for item in situations]) for leaf, bit in self.word_at.items()}
        for leaf, bit in self.address_at.items():
            found[leaf] = _bit([item.address >> bit & 1 for item in situations])
        if any(item.clock >= 0 for item in situations):
            found[self.clock] = _bit([item.clock for item in situations])
        return _given(found, self.contents)


def used_rows(control: ControlProgram) -> list[Row]:
    """The rows of blocks; not those that fill addresses which no step uses."""
    return [row for row in control.rows if row.block]


def _given(leaves: dict[Leaf, Bit], contents: dict[ChipId, bytes]) -> Given:
    nets = {leaf.place: bit for leaf, bit in leaves.items() if leaf.kind == "net"}
    return Given(nets, {leaf: bit for leaf, bit in leaves.items() if leaf.kind != "net"}, {}, contents)


def _bits(met: set[Leaf], at: dict[Leaf, int]) -> int:
    return sum({1 << bit for leaf, bit in at.items() if leaf in met})


def _bit(levels: list[int]) -> Bit:
    one = int("".join(map(str, reversed(levels))) or "0", 2)
    return Bit(one, one ^ ((1 << len(levels)) - 1))


def taken_from(part: Part, register: Register, bit: int) -> _Taken:
    """From which ports a bit is taken over unchanged, what it held itself and constants aside."""
    return frozenset().union(*(_taken(part, register.name, update.data, bit) for update in register.updates))


def _taken(part: Part, own: str, node: Expression, bit: int) -> _Taken:
    match node.operation:
        case Operation.CONSTANT:
            return frozenset()
        case Operation.VARIABLE if str(node.data) == own:
            return frozenset()
        case Operation.VARIABLE if str(node.data) in part.ports:
            return frozenset({(str(node.data), bit)})
        case Operation.MUX | Operation.CASE:
            return frozenset().union(*(_taken(part, own, argument, bit) for argument in node.args[1:]))
        case Operation.SLICE:
            return _taken(part, own, node.args[0], bit + int(node.data))  # type: ignore[arg-type]
        case Operation.CONCAT:
            for argument in node.args:
                if bit < argument.width:
                    return _taken(part, own, argument, bit)
                bit -= argument.width
    return frozenset({None})


def shown_on(wiring: Wiring, chip: ChipId, part: Part, state: str, bit: int) -> Iterable[NetId]:
    """Nets on which a bit of a state is shown as it is."""
    for drive in part.behaviour.drives:
        node, low = drive.value, 0
        if node.operation is Operation.SLICE:
            node, low = node.args[0], int(node.data)  # type: ignore[arg-type]
        if node.operation is Operation.VARIABLE and node.data == state and low <= bit < low + drive.value.width:
            yield wiring.netlist.nets_of(chip, drive.port)[bit - low]
