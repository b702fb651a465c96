"""What the debugger says of a machine that stands: lines of text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from latchwork.base.duration import time_text
from latchwork.base.position import Position
from latchwork.engines.protocol import Value
from latchwork.netlist import NetId
from latchwork.tools.debug.machine import Machine
from latchwork.tools.debug.session import Session

CELLS_IN_ROW = 16


def where(session: Session) -> list[str]:
    """Time, source line, microstep, registers, lamps."""
    machine = session.machine
    return [_time(session), *_instruction(machine), *microstep(machine), *registers(machine), *lamps(machine)]


def _time(session: Session) -> str:
    machine = session.machine
    parts = [f"clock {machine.clocks}", time_text(machine.simulation.time_ps)]
    if machine.instructions is not None:
        parts.append(f"instruction {machine.instructions}" + (" begins" if machine.begins else ""))
    return ", ".join(parts) + (", halted" if session.halted else "")


def _instruction(machine: Machine) -> Iterator[str]:
    """The line of the program that is at work."""
    address, space = machine.instruction_address, machine.program_space
    if address is None or space is None or machine.assembled is None:
        return
    line = machine.assembled.line_at(space.name, address)
    if line is None:
        yield f"  {space.name} {address:#x}, where no line of the program stands"
    else:
        yield f"  {_place(line.position)}  {line.text.strip()}"


def microstep(machine: Machine) -> Iterator[str]:
    """The step of the microprogram in words, and the lines that are active."""
    control = machine.model.control
    if control:
        row = machine.microstep
        if row is None or not row.block:
            yield "  no step of the microprogram is at work"
        else:
            conditions = "".join(f", {'' if level else 'not '}{name}" for name, level in row.conditions)
            asked = ", ".join(row.settings) or "nothing"
            yield f"  {_place(row.position)}  step {row.step} of {row.block}{conditions}: {asked}"
    active = active_lines(machine)
    if machine.model.netlist.lines:
        yield f"  active: {' '.join(active) or 'no line'}"


def active_lines(machine: Machine) -> list[str]:
    """Names of the control lines that stand at their active level."""
    value = machine.simulation.value
    return [line.name for line in machine.model.netlist.lines if value(line.net) == line.active]


def _place(position: Position) -> str:
    return f"{Path(position.file).name}:{position.line}"


def registers(machine: Machine) -> Iterator[str]:
    named = machine.model.statements.registers
    if named:
        read = machine.simulation.read
        yield "  " + "  ".join(f"{name} {number(read(nets))}" for name, nets in named)


def lamps(machine: Machine) -> Iterator[str]:
    """Output ports, and other buses that have lamps, as rows of lamps with the highest bit first."""
    ports = {port.name: port.nets for port in machine.model.statements.ports if port.direction == "out"}
    lit = _nets_with_lamps(machine)
    buses = {bus.name: bus.nets for bus in machine.model.netlist.buses if bus.name not in ports and lit & {*bus.nets}}
    rows = {**ports, **buses}
    widest = max(map(len, rows), default=0)
    for name, nets in rows.items():
        yield f"  {name.ljust(widest)}  {lamp_row(machine, nets)}  {number(machine.simulation.read(nets))}"


def _nets_with_lamps(machine: Machine) -> set[NetId]:
    """Nets of the lamps themselves; a series resistor may stand between."""
    netlist = machine.model.netlist
    lights = [chip for chip in range(len(netlist.chips)) if netlist.part_of(chip).kind == "lamp"]
    found = {net for chip in lights for net in netlist.chips[chip].pins}
    beside = {
        net
        for chip in range(len(netlist.chips))
        if netlist.part_of(chip).kind == "resistor" and found & {*netlist.chips[chip].pins}
        for net in netlist.chips[chip].pins
    }
    return (found | beside) - {netlist.high, netlist.low, -1}


def lamp_row(machine: Machine, nets: Sequence[NetId]) -> str:
    """● lit, · dark, ? not known."""
    marks = {Value.HIGH: "●", Value.LOW: "·"}
    return "".join(marks.get(machine.simulation.value(net), "?") for net in reversed(nets))


def number(value: int | None) -> str:
    return "?" if value is None else str(value)


def shown(session: Session, texts: Iterable[str]) -> Iterator[str]:
    """What names and conditions are worth: decimal and hexadecimal."""
    for text in texts:
        value = session[text]
        yield f"  {text} = {number(value)}" + (f"  ({value:#x})" if value is not None and value > 9 else "")


def cells(session: Session, space: str, first: int, last: int) -> Iterator[str]:
    """Cells of a memory, sixteen in a row; ?? is unknown, or no memory answers."""
    memory = session.machine.memory[space]
    bits = next((len(s.data) for s in session.machine.model.statements.spaces if s.name == space), 8)
    digits = (bits + 3) // 4
    for start in range(first, last + 1, CELLS_IN_ROW):
        row = memory[start : min(start + CELLS_IN_ROW, last + 1)]
        words = ("?" * digits if cell < 0 else f"{cell:0{digits}x}" for cell in row)
        yield f"  {start:04x}  {' '.join(words)}"


def source(session: Session, around: int = 3) -> Iterator[str]:
    """The program around the line at work, which is marked."""
    machine = session.machine
    address, space, program = machine.instruction_address, machine.program_space, machine.assembled
    line = program.line_at(space.name, address) if program and space and address is not None else None
    if line is None or program is None:
        yield "  no line of the program is at work"
        return
    listed = [each for each in program.lines if each.position.file == line.position.file and not each.depth]
    at = next((n for n, each in enumerate(listed) if each.position.line >= line.position.line), 0)
    for each in listed[max(at - around, 0) : at + around + 1]:
        mark = "▸" if each.position.line == line.position.line else " "
        yield f"  {mark} {each.position.line:4}  {each.text}".rstrip()


def horizon(session: Session) -> Iterator[str]:
    found = session.horizon
    yield f"  back to clock {found.oldest_clock}; moments kept: {found.moments}, one every {found.every} clocks"
    used, most = found.bytes_used / 1e6, found.limit_bytes / 1e6
    yield f"  {used:.1f} of {most:.0f} megabytes are used; at most {found.limit_clocks} clocks are kept"


def troubles(session: Session) -> Iterator[str]:
    incidents = session.machine.incidents
    if not incidents:
        yield "  no trouble"
    for each in incidents:
        often = f" ({each.count} times)" if each.count > 1 else ""
        yield f"  {each.kind} at {time_text(each.time_ps)}: {each.sentence}{often}"
