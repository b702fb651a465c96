"""Which arcs of a chip can matter in which lane.

In a lane some nets stand at known levels, because a control word is at work. A pin whose level is known still moves
when the word arrives, so its arcs stay. A pin whose level is not known counts only where the output depends on it,
with all known pins at their levels: what a selector does not choose, and what is blocked by a gate, falls away. So
does what comes from a driver that is surely off. Pins that never move (rails, and what follows from them) have no arcs.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from latchwork.analysis.arrival.cofactors import COFACTORS, Cofactors, alike
from latchwork.analysis.arrival.senses import Kind, PartArc, part_arcs, pins_of
from latchwork.analysis.arrival.trying import Trying
from latchwork.analysis.lanes import Evaluation
from latchwork.analysis.levels import Given, Lanes
from latchwork.analysis.wiring import Wiring
from latchwork.logic import Expression
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import Driver
from latchwork.parts import Latch, Memory, OutputKind, Register


class Activity:
    """``lanes``: levels in all lanes. ``off``: lanes in which a drive of a chip is taken to be off, whatever else."""

    def __init__(
        self, wiring: Wiring, lanes: Lanes, still: Mapping[NetId, int], off: Mapping[tuple[ChipId, int], int]
    ) -> None:
        self.wiring, self.lanes, self.all, self._still, self._off = wiring, lanes, lanes.all, still, off
        self._arcs: dict[tuple[ChipId, PartArc, int], int] = {}
        self.trying = Trying(lanes)
        self._of_part: dict[int, tuple[PartArc, ...]] = {}
        self._idle: dict[NetId, int] = {}
        self._moved: dict[tuple[ChipId, int], Evaluation[Cofactors]] = {}

    def arcs_of(self, chip: ChipId) -> tuple[PartArc, ...]:
        """The arcs of a chip's part."""
        number = self.wiring.netlist.chips[chip].part
        if number not in self._of_part:
            self._of_part[number] = part_arcs(self.wiring.netlist.parts[number])
        return self._of_part[number]

    def arc(self, chip: ChipId, arc: PartArc, edge: int) -> int:
        """The lanes in which an arc counts that starts with this edge."""
        key = (chip, arc, edge)
        if key not in self._arcs:
            self._arcs[key] = self._arc(chip, arc, edge) & self._comes_to(chip, arc.start, edge)
        return self._arcs[key]

    def _comes_to(self, chip: ChipId, pin: int, edge: int) -> int:
        """The lanes in which the last edge at a pin may be this one, since it may come to rest at that level."""
        net = self.wiring.netlist.chips[chip].pins[pin]
        if net == NO_NET:
            return 0
        level = self.lanes.net(net)
        return level.one if edge else level.zero

    def _arc(self, chip: ChipId, arc: PartArc, edge: int) -> int:
        net = self.wiring.netlist.chips[chip].pins[arc.start]
        if net == NO_NET or net in self._still:
            return 0
        driver = Driver(chip, arc.drive, arc.bit, arc.end)
        if arc.kind is Kind.DISABLE:
            return self.may_be_off(driver)
        on = self.may_drive(driver, (arc.start, edge))
        if not on:
            return 0
        written = any(memory.name == arc.state for memory in self.wiring.netlist.part_of(chip).behaviour.memories)
        return on & (self._depends(chip, arc) if written else self.known(net) | self._depends(chip, arc))

    def is_still(self, net: NetId) -> bool:
        """Whether a net never moves; one that is not there does not."""
        return net == NO_NET or net in self._still

    def known(self, net: NetId) -> int:
        """The lanes in which the level of a net is known."""
        level = self.lanes.net(net)
        return self.all & ~(level.one & level.zero)

    def may_drive(self, driver: Driver, held: tuple[int, int]) -> int:
        """The lanes in which a driver may be on while a pin of its chip, ``held[0]``, stands at level ``held[1]``."""
        drive = self.wiring.drive(driver)
        on = self.all & ~self._off.get((driver.chip, driver.drive), 0)
        if drive.kind is not OutputKind.THREE_STATE or drive.enable is None:
            return on
        return on & self._enabled(driver.chip, drive.enable, held)

    def _enabled(self, chip: ChipId, enable: Expression, held: tuple[int, int]) -> int:
        if held[0] not in pins_of(self.wiring.netlist.part_of(chip), enable):
            return self.lanes.bit(chip, enable, 0).one
        return Evaluation(self.all, _Moved(self.lanes, chip, -1, held), COFACTORS).bit(enable, 0).either.one

    def idle(self, net: NetId) -> int:
        """The lanes in which surely no driver of a net is on."""
        if net not in self._idle:
            off = self.all
            for driver in self.wiring.drivers[net]:
                drive = self.wiring.drive(driver)
                if drive.kind is not OutputKind.THREE_STATE or drive.enable is None:
                    off = 0
                else:
                    off &= ~self.lanes.bit(driver.chip, drive.enable, 0).one
            self._idle[net] = off
        return self._idle[net]

    def may_be_off(self, driver: Driver) -> int:
        """The lanes in which a driver may be off."""
        drive = self.wiring.drive(driver)
        enable = self.all if drive.enable is None else self.lanes.bit(driver.chip, drive.enable, 0).zero
        return enable | self._off.get((driver.chip, driver.drive), 0)

    def depends(self, chip: ChipId, pin: int, node: Expression, bit: int) -> int:
        """The lanes in which a bit of an expression of the chip may depend on a pin."""
        mark = self._moving(chip, pin).bit(node, bit).mark
        return mark and self.trying.narrowed(chip, pin, (node, bit), mark)

    def depends_while(self, chip: ChipId, pin: int, node: Expression, bit: int, *, held: tuple[int, int]) -> int:
        """The same while another pin, ``held[0]``, stands at level ``held[1]``."""
        return Evaluation(self.all, _Moved(self.lanes, chip, pin, held), COFACTORS).bit(node, bit).mark

    def _moving(self, chip: ChipId, pin: int) -> Evaluation[Cofactors]:
        key = (chip, pin)
        if key not in self._moved:
            self._moved[key] = Evaluation(self.all, _Moved(self.lanes, chip, pin), COFACTORS)
        return self._moved[key]

    def _depends(self, chip: ChipId, arc: PartArc) -> int:
        behaviour = self.wiring.netlist.part_of(chip).behaviour
        drive = behaviour.drives[arc.drive]
        if arc.kind is Kind.READ:
            return self.all
        if arc.kind is Kind.ENABLE:
            return self.depends(chip, arc.start, drive.enable, 0) if drive.enable is not None else 0
        if not arc.state:
            return self.depends(chip, arc.start, drive.value, arc.bit)
        for memory in behaviour.memories:
            if memory.name == arc.state:
                return self._on_memory(chip, arc, memory)
        states: list[Register | Latch] = [*behaviour.registers, *behaviour.latches]
        state = next(item for item in states if item.name == arc.state)
        return self._on_state(chip, arc, state)

    def _on_memory(self, chip: ChipId, arc: PartArc, memory: Memory) -> int:
        found = 0
        for write in memory.writes:
            found |= self.lanes.bit(chip, write.strobe, 0).one & self.depends(chip, arc.start, write.strobe, 0)
        return found

    def _on_state(self, chip: ChipId, arc: PartArc, state: Register | Latch) -> int:
        """Arcs that change a state, which is shown: any bit of it that its expressions let through."""
        found = 0
        if isinstance(state, Register):
            for update in state.updates:
                found |= self.depends(chip, arc.start, update.clock, 0)
        else:
            passes = self.lanes.bit(chip, state.enable, 0).one
            found |= self.depends(chip, arc.start, state.enable, 0)
            found |= passes & self._any_bit(chip, arc.start, state.data)
        for level in state.levels:
            acts = self.lanes.bit(chip, level.active, 0).one
            found |= self.depends(chip, arc.start, level.active, 0)
            found |= acts & self._any_bit(chip, arc.start, level.value)
        return found

    def _any_bit(self, chip: ChipId, pin: int, node: Expression) -> int:
        found = 0
        for bit in range(node.width):
            found |= self.depends(chip, pin, node, bit)
        return found


class _Moved:
    """A chip's inside while one pin moves, and one is held if asked for."""

    def __init__(self, lanes: Lanes, chip: ChipId, pin: int, held: tuple[int, int] | None = None) -> None:
        self._lanes, self._chip, self._pin, self._held = lanes, chip, pin, held
        self._ports = lanes.netlist.part_of(chip).ports

    def variable(self, name: str, bit: int) -> Cofactors:
        at = self._ports[name][bit] if name in self._ports else -1
        if at >= 0 and self._held is not None and at == self._held[0]:
            return alike(self._lanes.constant(self._held[1]))
        if at >= 0 and at == self._pin:
            return Cofactors(self._lanes.constant(0), self._lanes.constant(1), self._lanes.all)
        return alike(self._lanes.variable(self._chip, name, bit))

    def memory(self, read: Expression, address: Callable[[], Sequence[Cofactors]], bit: int) -> Cofactors:
        """What is read may depend on each bit of its address."""
        mark = 0
        for level in address():
            mark |= level.mark
        return Cofactors(self._lanes.unknown, self._lanes.unknown, mark)


def still_nets(wiring: Wiring, contents: Mapping[ChipId, bytes]) -> dict[NetId, int]:
    """Nets that never move, with their levels."""
    lanes = Lanes(wiring, 1, Given(contents=contents))
    found = {}
    for net in range(len(wiring.netlist.nets)):
        level = lanes.net(net)
        if not level.one or not level.zero:
            found[net] = level.one & 1
    return found
