"""The verifier of parts, as netlists carry them:

1.  names of ports and states are plain words; pin names and pin numbers are unique; a vector has a name of its own
    and pins of the part, each once;
2.  states (registers, latches, memories, timers) have unique names that no port has;
3.  expressions speak of ports and states of the part, in their widths, and read memories of the part;
4.  a drive has a port of the part and is as wide; a three-state drive has an enable of one bit, others have none;
5.  clocks, enables, strobes, triggers and levels have one bit; data are as wide as the state they go to, and so is
    what it wakes up with;
6.  pulses and delays have a trigger, other timers none; all but those set by hand name their time;
7.  ties and keepers stand at ports of one bit; units map to ports; figures are of the part's family.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from latchwork.logic import Expression, Operation
from latchwork.parts import Behaviour, Drive, Latch, Level, Memory, OutputKind, Part, Register, Timer, TimerKind
from latchwork.problems import Problem

_WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_TRIGGERED = (TimerKind.PULSE, TimerKind.DELAY)


@dataclass(frozen=True)
class _Scope:
    """What expressions may speak of: widths of ports and states, (width, address width) of memories."""

    widths: dict[str, int]
    memories: dict[str, tuple[int, int]]


def verify_part(part: Part) -> tuple[Problem, ...]:
    """Every invariant that the part breaks."""
    sentences = (*_shape(part), *_behaviour(part)) if _ports_exist(part) else tuple(_shape(part))
    return tuple(Problem("M202", f"{part.name}: {sentence}") for sentence in sentences)


def _ports_exist(part: Part) -> bool:
    return all(pin in part.pin_index for _, pins in part.vectors for pin in pins)


def _shape(part: Part) -> Iterator[str]:
    names, numbers = [pin.name for pin in part.pins], [pin.number for pin in part.pins]
    if len(set(names)) != len(names) or len(set(numbers)) != len(numbers):
        yield "two pins have one name or number"
    vectors = [name for name, _ in part.vectors]
    if len(set(vectors)) != len(vectors) or set(vectors) & set(names):
        yield "two ports have one name"
    for name, pins in part.vectors:
        if not pins or len(set(pins)) != len(pins) or not set(pins) <= set(names):
            yield f'the vector "{name}" has no pins, one twice, or one that the part lacks'
    for unit in part.units:
        if not {port for _, port in unit.ports} <= {*names, *vectors}:
            yield f'the unit "{unit.name}" has a port that the part lacks'
    if any(figure.family != part.family for figure in part.figures):
        yield "it has figures of another family"


def _behaviour(part: Part) -> Iterator[str]:
    behaviour, scope = part.behaviour, _scope(part)
    yield from _states(part)
    for drive in behaviour.drives:
        yield from _drive(part, drive, scope)
    for register in behaviour.registers:
        yield from _register(register, scope)
    for latch in behaviour.latches:
        yield from _latch(latch, scope)
    for memory in behaviour.memories:
        yield from _memory(memory, scope)
    for timer in behaviour.timers:
        yield from _timer(timer, scope)
    for port in (*(port for tie in behaviour.ties for port in (tie.a, tie.b)), *(k.port for k in behaviour.keepers)):
        if len(part.ports.get(port, ())) != 1:
            yield f'a tie or keeper stands at "{port}", which is no port of one bit'


def _are_words(names: Iterable[str]) -> bool:
    return all(_WORD.fullmatch(name) for name in names)


def _scope(part: Part) -> _Scope:
    behaviour = part.behaviour
    widths = {name: len(pins) for name, pins in part.ports.items()}
    widths |= {register.name: register.width for register in behaviour.registers}
    widths |= {latch.name: latch.width for latch in behaviour.latches}
    widths |= {timer.name: 1 for timer in behaviour.timers}
    return _Scope(widths, {memory.name: (memory.width, memory.address_width) for memory in behaviour.memories})


def _states(part: Part) -> Iterator[str]:
    names = state_names(part.behaviour)
    if not _are_words([*names, *part.ports]):
        yield "a port or a state has a name that is no plain word"
    if len(set(names)) != len(names) or set(names) & set(part.ports):
        yield "two states have one name, or a state has the name of a port"


def state_names(behaviour: Behaviour) -> list[str]:
    """Names of registers, latches, memories and timers."""
    clocked = [register.name for register in behaviour.registers] + [latch.name for latch in behaviour.latches]
    return clocked + [memory.name for memory in behaviour.memories] + [timer.name for timer in behaviour.timers]


def _drive(part: Part, drive: Drive, scope: _Scope) -> Iterator[str]:
    if drive.port not in part.ports:
        yield f'it drives "{drive.port}", which is no port'
        return
    what = f'the drive of "{drive.port}"'
    yield from _expression(drive.value, len(part.ports[drive.port]), what, scope)
    if (drive.enable is not None) != (drive.kind is OutputKind.THREE_STATE):
        yield f"{what} is {drive.kind.value} and has {'an' if drive.enable is not None else 'no'} enable"
    if drive.enable is not None:
        yield from _expression(drive.enable, 1, f"the enable of {what}", scope)


def _register(register: Register, scope: _Scope) -> Iterator[str]:
    what = f'the register "{register.name}"'
    if register.wakes is not None and not 0 <= register.wakes < 1 << register.width:
        yield f"{what} wakes up with {register.wakes} and has a width of {register.width}"
    for update in register.updates:
        yield from _expression(update.clock, 1, f"the clock of {what}", scope)
        yield from _expression(update.data, register.width, f"the data of {what}", scope)
    yield from _levels(register.levels, register.width, what, scope)


def _latch(latch: Latch, scope: _Scope) -> Iterator[str]:
    what = f'the latch "{latch.name}"'
    yield from _expression(latch.enable, 1, f"the enable of {what}", scope)
    yield from _expression(latch.data, latch.width, f"the data of {what}", scope)
    yield from _levels(latch.levels, latch.width, what, scope)


def _levels(levels: tuple[Level, ...], width: int, what: str, scope: _Scope) -> Iterator[str]:
    for level in levels:
        yield from _expression(level.active, 1, f"a level of {what}", scope)
        yield from _expression(level.value, width, f"a level's value of {what}", scope)


def _memory(memory: Memory, scope: _Scope) -> Iterator[str]:
    what = f'the memory "{memory.name}"'
    if memory.width < 1 or not 0 < memory.address_width <= 32:
        yield f"{what} has words of {memory.width} bits and {memory.address_width} address bits"
    for write in memory.writes:
        yield from _expression(write.strobe, 1, f"the strobe of {what}", scope)
        yield from _expression(write.address, memory.address_width, f"the address of {what}", scope)
        yield from _expression(write.data, memory.width, f"the data of {what}", scope)


def _timer(timer: Timer, scope: _Scope) -> Iterator[str]:
    what = f'the timer "{timer.name}"'
    if (timer.trigger is not None) != (timer.kind in _TRIGGERED):
        yield f"{what} is of kind {timer.kind.value} and has {'a' if timer.trigger is not None else 'no'} trigger"
    if timer.trigger is not None:
        yield from _expression(timer.trigger, 1, f"the trigger of {what}", scope)
    if bool(timer.time) == (timer.kind is TimerKind.HAND):
        yield f"{what} is of kind {timer.kind.value} and {'names' if timer.time else 'does not name'} its time"


def _expression(expression: Expression, width: int, what: str, scope: _Scope) -> Iterator[str]:
    if expression.width != width:
        yield f"{what} has {expression.width} bits instead of {width}"
    for node in _nodes(expression):
        if node.operation is Operation.VARIABLE and scope.widths.get(str(node.data)) != node.width:
            yield f'{what} speaks of "{node.data}" of {node.width} bits, which the part lacks'
        if node.operation is Operation.READ and not _readable(node, scope):
            yield f'{what} reads {node.width} bits of a memory "{node.data}", which the part lacks'


def _readable(node: Expression, scope: _Scope) -> bool:
    return scope.memories.get(str(node.data)) == (node.width, node.args[0].width)


def _nodes(expression: Expression) -> list[Expression]:
    """Every node once, in a fixed order."""
    seen, waiting = {expression: None}, [expression]
    while waiting:
        for argument in waiting.pop().args:
            if argument not in seen:
                seen[argument] = None
                waiting.append(argument)
    return list(seen)
