"""Stuck-at faults of one part: which there are, where they sit in the program, and the part that has one built in.

A fault is a pin stuck low or high, or a bit of an expression stuck low or high: of every node that some expression of
the behaviour has, shared nodes once, constants left out, states as they are read included. ``faulty`` writes the fault
into the behaviour itself, so that any engine can run it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from latchwork.analysis.one_part.program import Program, Slot, nodes, roots
from latchwork.analysis.one_part.rewriting import rewritten
from latchwork.logic import Expression, Operation, concat, constant, variable
from latchwork.logic.text import written
from latchwork.parts import Behaviour, Direction, Drive, OutputKind, Part

SIGNALS = {Direction.INPUT, Direction.OUTPUT, Direction.BOTH}
LONGEST = 60


@dataclass(frozen=True)
class Fault:
    """``pin``: index of a pin, or -1; else bit ``bit`` of ``node``. ``level``: where it is stuck."""

    level: int
    pin: int = -1
    node: Expression | None = None
    bit: int = 0


def faults_of(part: Part) -> list[Fault]:
    """Every fault, those of pins first."""
    return [*_pin_faults(part), *_node_faults(part)]


def _pin_faults(part: Part) -> Iterator[Fault]:
    for index, pin in enumerate(part.pins):
        if pin.direction in SIGNALS:
            yield from (Fault(level, pin=index) for level in (0, 1))


def _node_faults(part: Part) -> Iterator[Fault]:
    for node in nodes(roots(part.behaviour)):
        if not (node.operation is Operation.CONSTANT or _is_port(part, node)):
            for bit in range(node.width):
                yield from (Fault(level, node=node, bit=bit) for level in (0, 1))


def _is_port(part: Part, node: Expression) -> bool:
    return node.operation is Operation.VARIABLE and str(node.data) in part.ports


def slot_of(program: Program, fault: Fault) -> Slot:
    return fault.pin if fault.node is None else program.slots[fault.node][fault.bit]


def described(part: Part, fault: Fault) -> str:
    """ "pin 3 (A) stuck low", "bit 2 of count stuck high"."""
    where = (
        f"pin {part.pins[fault.pin].number} ({part.pins[fault.pin].sheet})" if fault.node is None else _inside(fault)
    )
    return f"{where} stuck {'high' if fault.level else 'low'}"


def _inside(fault: Fault) -> str:
    assert fault.node is not None
    text = written(fault.node)
    short = text if len(text) <= LONGEST else text[: LONGEST - 3] + "..."
    return short if fault.node.width == 1 else f"bit {fault.bit} of {short}"


# The part with a fault built in


def faulty(part: Part, fault: Fault) -> Part:
    """The part with the fault in its behaviour."""
    if fault.node is not None:
        return replace(
            part, behaviour=rewritten_at(part.behaviour, fault.node, _with_bit(fault.node, fault.bit, fault.level))
        )
    return replace(part, behaviour=_with_stuck_pin(part, fault.pin, fault.level))


def _with_bit(node: Expression, bit: int, level: int) -> Expression:
    pieces = [node[:bit] if bit else None, constant(level), node[bit + 1 :] if bit + 1 < node.width else None]
    return concat(*(piece for piece in pieces if piece is not None))


def _with_stuck_pin(part: Part, pin: int, level: int) -> Behaviour:
    """Readers of the pin see the level; a pin that the part drives is driven to it."""
    behaviour = part.behaviour
    for port, pins in part.ports.items():
        if pin in pins:
            read = variable(port, len(pins))
            behaviour = rewritten_at(behaviour, read, _with_bit(read, pins.index(pin), level))
    if part.pins[pin].direction is Direction.INPUT:
        return behaviour
    drives = tuple(each for drive in behaviour.drives for each in _without_pin(part, drive, pin))
    return replace(behaviour, drives=(*drives, Drive(part.pins[pin].name, constant(level))))


def _without_pin(part: Part, drive: Drive, pin: int) -> Iterator[Drive]:
    """The drive, or one a pin for its other pins."""
    pins = part.ports[drive.port]
    if pin not in pins:
        yield drive
        return
    for place, other in enumerate(pins):
        if other != pin:
            yield replace(drive, port=part.pins[other].name, value=drive.value[place])


def rewritten_at(behaviour: Behaviour, old: Expression, new: Expression) -> Behaviour:
    """The behaviour with one node in the place of another, wherever it stands."""
    return rewritten(behaviour, lambda node, arguments: None, {old: new})


def open_collector(part: Part) -> set[int]:
    """Pins that the part only pulls low."""
    drives = [drive for drive in part.behaviour.drives if drive.kind is OutputKind.OPEN_COLLECTOR]
    return {pin for drive in drives for pin in part.ports[drive.port]}
