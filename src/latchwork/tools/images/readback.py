"""A chip read back on the bench against what it should hold."""

from __future__ import annotations

from itertools import islice
from pathlib import Path

from latchwork.base.position import Position
from latchwork.model import Model
from latchwork.netlist import Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import memory_pins
from latchwork.problems import Label, LatchworkError, Problem
from latchwork.reports.images import Difference, Match, ReadBackReport
from latchwork.tools.images.chips import Rom, empty_roms, file_name, no_contents, rom_named, some_roms
from latchwork.tools.images.crossed import Explanation, explain
from latchwork.tools.images.reader import read_image
from latchwork.tools.images.report import count_differences

_FIRST = 8


def verify(model: Model, path: Path, chip: str = "") -> ReadBackReport:
    """Compare a file with a ROM: the one named ``chip``, else the one after which the file is named, else the one
    that it fits best. Raises LatchworkError where the file can't be read or no ROM has its size."""
    content = read_image(path)
    fitting = [rom for rom in some_roms(model) if rom.size == len(content)]
    matches = sorted(((count_differences(rom.content, content), rom.chip, rom) for rom in fitting), key=lambda m: m[:2])
    rom = _meant(model, path, chip)
    if rom is None:
        _refuse_empty(model, path)
        rom = matches[0][2] if matches else None
    if rom is None or rom.size != len(content):
        raise _wrong_size(model, path, len(content), rom)
    differing = count_differences(rom.content, content)
    reason = explain(rom.content, content, rom.memory.width) if differing else None
    return ReadBackReport(
        file=str(path),
        reference=rom.reference,
        part=rom.part,
        label=rom.label,
        size=rom.size,
        differing=differing,
        first=_first_differences(rom.content, content),
        explanation=_sentences(model.netlist, rom, reason) if reason else (),
        explained=differing - reason.remaining if reason else 0,
        best=tuple(Match(rom.reference, rom.name, count) for count, _, rom in matches),
    )


def _meant(model: Model, path: Path, chip: str) -> Rom | None:
    if chip:
        return rom_named(model, chip)
    return next((rom for rom in some_roms(model) if rom.name == path.stem), None)


def _refuse_empty(model: Model, path: Path) -> None:
    """A file that is named after a chip that nothing gives contents to is not to be held against another chip."""
    for reference in empty_roms(model):
        if file_name(model.netlist, model.netlist.chip_named[reference]) == path.stem:
            raise no_contents(model, reference, (Label(Position(str(path))),))


def _wrong_size(model: Model, path: Path, size: int, rom: Rom | None) -> LatchworkError:
    label = (Label(Position(str(path))),)
    if rom is not None:
        message = f"the file holds {size} bytes, {rom.reference} ({rom.part}) has {rom.size}"
        return LatchworkError(Problem("I120", message, label, "read the whole chip, from address 0"))
    sizes = ", ".join(f"{rom.reference} {rom.size}" for rom in some_roms(model))
    programs = empty_roms(model) and model.statements.spaces
    empty = "; what is in a program's ROM follows from --program" if programs else ""
    message = f"the file holds {size} bytes, and no ROM with contents has that size"
    return LatchworkError(Problem("I120", message, label, f"the ROMs have: {sizes}{empty}"))


def _first_differences(should: bytes, found: bytes) -> tuple[Difference, ...]:
    places = (address for address, (a, b) in enumerate(zip(should, found, strict=True)) if a != b)
    return tuple(Difference(address, should[address], found[address]) for address in islice(places, _FIRST))


def _sentences(netlist: Netlist, rom: Rom, reason: Explanation) -> tuple[str, ...]:
    found = [*_crossings(netlist, rom, "address", reason.address), *_crossings(netlist, rom, "data", reason.data)]
    for kind, stuck in (("address", reason.stuck_address), ("data", reason.stuck_data)):
        found += [f"{kind} line {_line(netlist, rom, kind, line)} stays {level}" for line, level in stuck]
    return tuple(found)


def _crossings(netlist: Netlist, rom: Rom, kind: str, order: tuple[int, ...]) -> list[str]:
    """One sentence a cycle: two lines are swapped, more than two are crossed."""
    found, done = [], set()
    for start in range(len(order)):
        cycle = []
        line = start
        while line not in done and order[line] != line:
            done.add(line)
            cycle.append(_line(netlist, rom, kind, line))
            line = order[line]
        if len(cycle) == 2:
            found.append(f"{kind} lines {cycle[0]} and {cycle[1]} are swapped")
        elif cycle:
            found.append(f"{kind} lines are crossed in a ring: {', '.join(cycle)}, {cycle[0]}")
    return found


def _line(netlist: Netlist, rom: Rom, kind: str, line: int) -> str:
    """The pin's name and the net that it is on: "A3 (pc[3])"."""
    pins = memory_pins(netlist.part_of(rom.chip))
    if pins is None:
        return str(line)
    pin = (pins.address if kind == "address" else pins.data)[line]
    net = netlist.chips[rom.chip].pins[pin]
    name = netlist.part_of(rom.chip).pins[pin].name
    return name if net == NO_NET else f"{name} ({netlist.nets[net].name})"
