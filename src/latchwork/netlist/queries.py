"""Plain questions to a netlist: who drives a net, who reads it, how a pin is named in a sentence."""

from __future__ import annotations

from typing import NamedTuple

from latchwork.logic import Expression, Operation
from latchwork.netlist.netlist import NO_NET, ChipId, NetId, Netlist, PinRef
from latchwork.parts import Behaviour, Direction, Part


class Driver(NamedTuple):
    """Bit ``bit`` of drive number ``drive`` of a chip's behaviour, at a pin."""

    chip: ChipId
    drive: int
    bit: int
    pin: int


class MemoryPins(NamedTuple):
    """Pins of a part, by index, that address its memory and show its data, lowest bit first."""

    address: tuple[int, ...]
    data: tuple[int, ...]


def drivers(netlist: Netlist, net: NetId) -> tuple[Driver, ...]:
    """Every drive that can put a strong value on the net, enabled or not."""
    return tuple(driver for pin in netlist.pins_on[net] for driver in _drivers_at(netlist, pin))


def _drivers_at(netlist: Netlist, at: PinRef) -> list[Driver]:
    part = netlist.part_of(at.chip)
    return [
        Driver(at.chip, number, part.ports[drive.port].index(at.pin), at.pin)
        for number, drive in enumerate(part.behaviour.drives)
        if at.pin in part.ports[drive.port]
    ]


def readers(netlist: Netlist, net: NetId) -> tuple[PinRef, ...]:
    """Pins on the net that listen: inputs, and two-way pins."""
    listening = (Direction.INPUT, Direction.BOTH)
    return tuple(at for at in netlist.pins_on[net] if netlist.part_of(at.chip).pins[at.pin].direction in listening)


def pin_name(netlist: Netlist, at: PinRef) -> str:
    """ "U7 pin 15 (B3)"."""
    pin = netlist.part_of(at.chip).pins[at.pin]
    return f"{netlist.chips[at.chip].reference} pin {pin.number} ({pin.name})"


def chip_name(netlist: Netlist, chip: ChipId) -> str:
    """ "74HCT245 U7"."""
    return f"{netlist.part_of(chip).name} {netlist.chips[chip].reference}"


def net_name(netlist: Netlist, net: NetId) -> str:
    """The net's name, in words where there is none."""
    return "no net" if net == NO_NET else netlist.nets[net].name


def memory_pins(part: Part) -> MemoryPins | None:
    """The pins of a part's one memory; None where it has none or its address and data do not stand at pins."""
    behaviour = part.behaviour
    if len(behaviour.memories) != 1:
        return None
    reads = {node for drive in behaviour.drives for node in _reads(drive.value)}
    addresses = {_port_bits(part, node.args[0]) for node in reads}
    data = _shown(part, behaviour)
    if len(addresses) != 1 or None in addresses or data is None:
        return None
    return MemoryPins(addresses.pop() or (), data)


def _reads(expression: Expression) -> set[Expression]:
    found = {expression} if expression.operation is Operation.READ else set()
    return found.union(*(_reads(argument) for argument in expression.args))


def _port_bits(part: Part, expression: Expression) -> tuple[int, ...] | None:
    """Pins whose levels are the expression's bits, where it is nothing but pins side by side."""
    match expression.operation:
        case Operation.VARIABLE:
            return part.ports.get(str(expression.data))
        case Operation.SLICE:
            whole = _port_bits(part, expression.args[0])
            low = int(expression.data)  # type: ignore[arg-type]
            return whole and whole[low : low + expression.width]
        case Operation.CONCAT:
            pieces = [_port_bits(part, argument) for argument in expression.args]
            return None if None in pieces else tuple(pin for piece in pieces if piece for pin in piece)
        case _:
            return None


def _shown(part: Part, behaviour: Behaviour) -> tuple[int, ...] | None:
    """Pins that show the memory's word, by bit; None where they do not cover it."""
    found: dict[int, int] = {}
    for drive in behaviour.drives:
        node, low = drive.value, 0
        if node.operation is Operation.SLICE:
            node, low = node.args[0], int(node.data)  # type: ignore[arg-type]
        if node.operation is Operation.READ:
            found |= {low + bit: pin for bit, pin in enumerate(part.ports[drive.port])}
    width = behaviour.memories[0].width
    return tuple(found[bit] for bit in range(width)) if set(found) == set(range(width)) else None
