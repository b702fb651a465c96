"""The verifier of netlists. What it checks is what every tool may rely on:

1.  names are unique: nets; buses; boards; lines; parts; references of chips; labels of chips;
2.  every index is in range: part and board of a chip, nets of pins, buses, lines, phases and assumptions;
3.  ``high`` and ``low`` are two different nets; ``clock`` is a net or ``NO_NET``;
4.  a chip has as many pins as its part; pins left open on purpose are open; spare units are units of the part;
5.  levels are 0 or 1; a net is assumed once; ``idle`` is "", "high", "low" or "keep"; the supply is positive;
6.  a bus has a net or more;
7.  each timer of a chip's part has its time among the chip's parameters, a positive number of picoseconds;
8.  every part obeys the invariants of ``verify_part``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from latchwork.base.position import NOWHERE, Position
from latchwork.netlist.netlist import NO_NET, Chip, Netlist
from latchwork.netlist.verify_part import verify_part
from latchwork.parts import TimerKind
from latchwork.problems import Label, Problem

_IDLE = ("", "high", "low", "keep")


def verify(netlist: Netlist) -> tuple[Problem, ...]:
    """Every invariant that the netlist breaks; nothing for a sound one."""
    parts = [problem for part in netlist.parts for problem in verify_part(part)]
    return (*_names(netlist), *_rails(netlist), *_chips(netlist), *_groups(netlist), *_stated(netlist), *parts)


def _broken(message: str, position: Position = NOWHERE) -> Problem:
    return Problem("M201", message, (Label(position),) if position != NOWHERE else ())


def _names(netlist: Netlist) -> Iterator[Problem]:
    yield from _twice("net", (net.name for net in netlist.nets))
    yield from _twice("bus", (bus.name for bus in netlist.buses))
    yield from _twice("board", (board.name for board in netlist.boards))
    yield from _twice("line", (line.name for line in netlist.lines))
    yield from _twice("part", (part.name for part in netlist.parts))
    yield from _twice("chip", (chip.reference for chip in netlist.chips))
    yield from _twice("label", (chip.label for chip in netlist.chips if chip.label))


def _twice(kind: str, names: Iterable[str]) -> Iterator[Problem]:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            yield _broken(f'the {kind} "{name}" is there twice')
        seen.add(name)


def _rails(netlist: Netlist) -> Iterator[Problem]:
    for name, net in (("high", netlist.high), ("low", netlist.low)):
        if not _is_net(netlist, net):
            yield _broken(f"the rail {name} is net {net}, which does not exist")
    if netlist.high == netlist.low:
        yield _broken("both rails are the same net")
    if netlist.clock != NO_NET and not _is_net(netlist, netlist.clock):
        yield _broken(f"the clock is net {netlist.clock}, which does not exist")
    if netlist.supply_millivolts <= 0:
        yield _broken(f"the supply is {netlist.supply_millivolts} mV")


def _is_net(netlist: Netlist, net: int) -> bool:
    return 0 <= net < len(netlist.nets)


def _chips(netlist: Netlist) -> Iterator[Problem]:
    for chip in netlist.chips:
        if not 0 <= chip.part < len(netlist.parts):
            yield _broken(f"{chip.reference} is of part {chip.part}, which does not exist", chip.position)
            continue
        if not 0 <= chip.board < len(netlist.boards):
            yield _broken(f"{chip.reference} stands on board {chip.board}, which does not exist", chip.position)
        yield from _pins(netlist, chip)
        yield from _times(netlist, chip)


def _pins(netlist: Netlist, chip: Chip) -> Iterator[Problem]:
    part = netlist.parts[chip.part]
    if len(chip.pins) != len(part.pins):
        message = f"{chip.reference} has {len(chip.pins)} pins, its part {part.name} {len(part.pins)}"
        yield _broken(message, chip.position)
    for number, net in enumerate(chip.pins):
        if net != NO_NET and not _is_net(netlist, net):
            yield _broken(f"pin {number} of {chip.reference} is on net {net}, which does not exist", chip.position)
    for pin in chip.left_open:
        if not 0 <= pin < len(chip.pins) or chip.pins[pin] != NO_NET:
            yield _broken(f"pin {pin} of {chip.reference} is left open on purpose and not open", chip.position)
    for name in chip.spare_units:
        if name not in [unit.name for unit in part.units]:
            yield _broken(f'{chip.reference} has a spare unit "{name}", {part.name} has none such', chip.position)


def _times(netlist: Netlist, chip: Chip) -> Iterator[Problem]:
    given = dict(chip.parameters)
    for timer in netlist.parts[chip.part].behaviour.timers:
        time = given.get(timer.time)
        if timer.kind is not TimerKind.HAND and not (isinstance(time, int) and time > 0):
            message = f'{chip.reference} needs a positive "{timer.time}" in picoseconds for its timer "{timer.name}"'
            yield _broken(message, chip.position)


def _groups(netlist: Netlist) -> Iterator[Problem]:
    for bus in netlist.buses:
        if not bus.nets:
            yield _broken(f'the bus "{bus.name}" has no nets')
        if bus.idle not in _IDLE:
            yield _broken(f'the bus "{bus.name}" idles "{bus.idle}"; it is one of high, low, keep or nothing')
        if not all(_is_net(netlist, net) for net in bus.nets):
            yield _broken(f'the bus "{bus.name}" has a net that does not exist')


def _stated(netlist: Netlist) -> Iterator[Problem]:
    for line in netlist.lines:
        nets = (line.net, *(net for net, _ in line.phase))
        levels = (line.active, line.rest, *(level for _, level in line.phase))
        if not all(_is_net(netlist, net) for net in nets):
            yield _broken(f'the line "{line.name}" speaks of a net that does not exist', line.position)
        if not set(levels) <= {0, 1}:
            yield _broken(f'the line "{line.name}" has a level that is not 0 or 1', line.position)
    seen: set[int] = set()
    for assumption in netlist.assumptions:
        if not _is_net(netlist, assumption.net) or assumption.net in seen or assumption.level not in (0, 1):
            message = f"net {assumption.net} is assumed to be {assumption.level}: no such net or level, or twice"
            yield _broken(message, assumption.position)
        seen.add(assumption.net)
