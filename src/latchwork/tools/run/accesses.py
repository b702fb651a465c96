"""What reads and writes the memories of an address space, seen from the settled nets at their pins.

A cell is *read* when its chip shows it on enabled outputs at the end of a tick and did not show it before. It is
*written* while the strobe is at work at the end of a tick, or at the rising edge of a clocked one. What comes and goes
within one tick is not seen.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from latchwork.analysis.spaces import map_space
from latchwork.engines.looks import Conditions
from latchwork.engines.protocol import Simulation
from latchwork.logic import Expression, Operation
from latchwork.logic.evaluate import evaluate
from latchwork.model import Model, Space
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Memory

ALWAYS = None


@dataclass(frozen=True)
class _Way:
    """One way into or out of a memory: at work while ``active`` is 1, or with ``clocked`` as that rises."""

    active: Expression | None
    address: Expression
    data: Expression | None = None
    clocked: bool = False


class Accesses:
    """``read`` and ``written`` hold the addresses of the tick that was last looked at. ``begun``: those of ``written``
    whose write began with it. Where a pin is unknown nothing is seen."""

    def __init__(self, model: Model, simulation: Simulation, space: Space) -> None:
        self.read: frozenset[int] = frozenset()
        self.written: frozenset[int] = frozenset()
        self.begun: frozenset[int] = frozenset()
        self._chips = []
        places: dict[ChipId, dict[int, list[int]]] = {}
        for region in map_space(model.netlist, space).regions:
            cells = places.setdefault(region.chip, {})
            for address, cell in enumerate(region.cells, region.start):
                cells.setdefault(cell, []).append(address)
        self._chips = [(_ChipAccess(model, simulation, chip), cells) for chip, cells in places.items()]

    def at_pins(self, address: int) -> Conditions | None:
        """What the address pins of chips carry (nets, number) while a cell is read or written; None where these pins
        do not say it."""
        found: list[tuple[tuple[NetId, ...], int]] = []
        for chip, places in self._chips:
            nets = chip.address_nets
            cells = [cell for cell, addresses in places.items() if address in addresses]
            if cells and nets is None:
                return None
            found += [(nets or (), cell) for cell in cells]
        return tuple(found)

    def prime(self) -> None:
        """Take the present tick as the one before: after going to another moment."""
        self.sample()
        self.read = self.written = self.begun = frozenset()

    def sample(self) -> None:
        """Look after a tick."""
        found: tuple[set[int], set[int], set[int]] = set(), set(), set()
        for chip, places in self._chips:
            for addresses, cells in zip(found, chip.sample(), strict=True):
                for cell in cells:
                    addresses.update(places.get(cell, ()))
        self.read, self.written, self.begun = map(frozenset, found)


class _ChipAccess:
    def __init__(self, model: Model, simulation: Simulation, chip: ChipId) -> None:
        self._simulation = simulation
        self._chip = chip
        part = model.netlist.part_of(chip)
        memory = part.behaviour.memories[0]
        self._reads = list(_reads(part.behaviour.drives, memory))
        self._writes = [_Way(w.strobe, w.address, w.data, w.clocked) for w in memory.writes]
        used = {name for way in (*self._reads, *self._writes) for name in _variables(way)}
        low = model.netlist.low
        self._ports: dict[str, tuple[NetId, ...]] = {
            name: tuple(low if net == NO_NET else net for net in model.netlist.nets_of(chip, name))
            for name in sorted(used)
            if name in part.ports
        }
        self._states = sorted(used - self._ports.keys())
        self._shown: list[int | None] = [None] * len(self._reads)
        self._busy: list[tuple[int, int] | None] = [None] * len(self._writes)
        self._strobes: list[tuple[int | None, list[int | None]]] = [(None, [])] * len(self._writes)

    @property
    def address_nets(self) -> tuple[NetId, ...] | None:
        """The nets that are the cell's number for all that reads and writes; None where it is worked out."""
        said = {str(each.address.data) if each.address.operation is Operation.VARIABLE else ""
                for each in (*self._reads, *self._writes)}  # fmt: skip
        return self._ports.get(said.pop()) if len(said) == 1 else None

    def sample(self) -> tuple[list[int], list[int], list[int]]:
        """Cells read, written, and those whose write began."""
        values = self._values()
        read, written, begun = [], [], []
        for number, way in enumerate(self._reads):
            cell = self._at_work(way, values)
            if cell is not None and cell != self._shown[number]:
                read.append(cell)
            self._shown[number] = cell
        for number, way in enumerate(self._writes):
            was = self._busy[number]
            now = self._busy[number] = self._write(number, way, values)
            if now and now != was:
                written.append(now[0])
                if was is None or was[0] != now[0] or way.clocked:
                    begun.append(now[0])
        return read, written, begun

    def _values(self) -> dict[str, int | None]:
        values = {name: self._simulation.read(nets) for name, nets in self._ports.items()}
        return values | {name: self._simulation.state(self._chip, name) for name in self._states}

    def _at_work(self, way: _Way, values: Mapping[str, int | None]) -> int | None:
        if way.active is not ALWAYS and _value(way.active, values) != 1:
            return None
        return _value(way.address, values)

    def _write(self, number: int, way: _Way, values: Mapping[str, int | None]) -> tuple[int, int] | None:
        """(cell, data) of a write at work."""
        assert way.active is not None
        assert way.data is not None
        strobe, *place = (_value(each, values) for each in (way.active, way.address, way.data))
        (strobe_was, place_was), self._strobes[number] = self._strobes[number], (strobe, place)
        if way.clocked:
            return _known(place_was) if (strobe_was, strobe) == (0, 1) else None
        return _known(place) if strobe == 1 else None


def _known(place: list[int | None]) -> tuple[int, int] | None:
    """(cell, data) where both are known."""
    cell, data = place
    return None if cell is None or data is None else (cell, data)


def _value(expression: Expression, values: Mapping[str, int | None]) -> int | None:
    known = {name: value for name, value in values.items() if value is not None}
    try:
        return evaluate(expression, known)
    except KeyError:
        return None


def _reads(drives: tuple, memory: Memory) -> Iterator[_Way]:  # type: ignore[type-arg]
    for drive in drives:
        for node in _nodes(drive.value):
            if node.operation is Operation.READ and node.data == memory.name:
                yield _Way(drive.enable, node.args[0])


def _nodes(expression: Expression) -> Iterator[Expression]:
    yield expression
    for argument in expression.args:
        yield from _nodes(argument)


def _variables(way: _Way) -> Iterator[str]:
    for expression in (way.active, way.address, way.data):
        for node in _nodes(expression) if expression else ():
            if node.operation is Operation.VARIABLE:
                yield str(node.data)
