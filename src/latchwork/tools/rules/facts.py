"""What several rules ask about a machine, worked out once."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from latchwork.analysis.control_words import ControlWords
from latchwork.analysis.levels import Lanes
from latchwork.analysis.wiring import Wiring
from latchwork.devices.made import made
from latchwork.logic import Expression, Operation
from latchwork.model import Model, Statements
from latchwork.netlist import ChipId, NetId, PinRef
from latchwork.netlist.queries import Driver
from latchwork.parts import Direction, Part

if TYPE_CHECKING:
    from latchwork.tools.rules.meetings import Meeting


class Facts:
    def __init__(self, model: Model) -> None:
        self.model, self.netlist = model, model.netlist
        self.wiring = Wiring(model.netlist)
        self.words = ControlWords(model, self.wiring)

    @cached_property
    def bare(self) -> Lanes:
        """Levels that rails and assumptions alone decide."""
        return Lanes(self.wiring)

    @cached_property
    def live_drivers(self) -> tuple[tuple[Driver, ...], ...]:
        """For each net the drives that can come to act on it."""
        return tuple(tuple(item for item in found if self._lives(item)) for found in self.wiring.drivers)

    def _lives(self, driver: Driver) -> bool:
        enable = self.wiring.drive(driver).enable
        return enable is None or bool(self.bare.bit(driver.chip, enable, 0).one)

    @cached_property
    def readers(self) -> tuple[tuple[PinRef, ...], ...]:
        """For each net the pins that listen to it."""
        return tuple(tuple(at for at in found if self.reads(at)) for found in self.netlist.pins_on)

    def reads(self, at: PinRef) -> bool:
        """Whether a pin is an input, or one of both directions whose level can come to matter."""
        part = self.netlist.part_of(at.chip)
        direction = part.pins[at.pin].direction
        if direction is not Direction.BOTH:
            return direction is Direction.INPUT
        return any(at.pin in pins_in(part, expression) for expression in self._heard(at.chip, part))

    def _heard(self, chip: ChipId, part: Part) -> list[Expression]:
        """The expressions of a chip that can come to act."""
        behaviour = part.behaviour
        found: list[tuple[Expression | None, list[Expression]]] = [
            (drive.enable, [drive.value, *([drive.enable] if drive.enable else [])]) for drive in behaviour.drives
        ]
        for register in behaviour.registers:
            found += [(update.clock, [update.clock, update.data]) for update in register.updates]
            found += [(level.active, [level.active, level.value]) for level in register.levels]
        for memory in behaviour.memories:
            found += [(write.strobe, [write.strobe, write.address, write.data]) for write in memory.writes]
        for latch in behaviour.latches:
            found += [(latch.enable, [latch.enable, latch.data])]
            found += [(level.active, [level.active, level.value]) for level in latch.levels]
        found += [(None, [timer.trigger]) for timer in behaviour.timers if timer.trigger]
        return [
            expression
            for condition, parts in found
            if condition is None or self.bare.bit(chip, condition, 0).one
            for expression in parts
        ]

    @cached_property
    def meetings(self) -> tuple[Meeting, ...]:
        """Pairs of outputs that can drive a net at once."""
        from latchwork.tools.rules.meetings import meetings

        return tuple(meetings(self))

    @cached_property
    def driven_by_devices(self) -> frozenset[NetId]:
        """Nets that a device of the machine may drive."""
        return frozenset(output.net for stated in self.model.statements.devices for output in made(stated).outputs)

    @cached_property
    def spoken_of(self) -> frozenset[NetId]:
        """Nets that a statement looks at: conditions, opcode, halt, registers, ports that a person reads, devices."""
        return frozenset(nets_looked_at(self.model.statements))


def nets_looked_at(stated: Statements) -> set[NetId]:
    found = {halt.net for halt in stated.halts}
    found.update(net for _, nets in stated.registers for net in nets)
    found.update(net for port in stated.ports if port.direction == "out" for net in (*port.nets, port.take))
    found.update(net for space in stated.spaces for net in (*space.address, *space.data))
    found.update(net for device in stated.devices for _, nets in device.pins for net in nets)
    binding = stated.microprogram
    if binding:
        found.update((*binding.opcode, *binding.step, binding.interrupt, *(net for _, net, _ in binding.conditions)))
    return found


def pins_in(part: Part, expression: Expression) -> set[int]:
    """Indices of the pins that an expression speaks of."""
    if expression.operation is Operation.VARIABLE:
        return set(part.ports.get(str(expression.data), ()))
    return set().union(*(pins_in(part, argument) for argument in expression.args))
