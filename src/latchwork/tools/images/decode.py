"""A control image back into instructions and line names: what one ROM of the control store says in each step."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from latchwork.analysis.word_lines import lines_of_word
from latchwork.base.position import Position
from latchwork.model import ControlProgram, Model, Row
from latchwork.netlist import NetId, Netlist
from latchwork.netlist.queries import memory_pins
from latchwork.problems import Label, LatchworkError, Problem
from latchwork.reports.images import DecodedRow, DecodeReport
from latchwork.tools.images.chips import Rom, rom_named, some_roms
from latchwork.tools.images.reader import read_image
from latchwork.tools.images.report import count_differences


def decode(model: Model, path: Path, chip: str = "") -> DecodeReport:
    """Read a file as the image of a chip of the control store: the one named, else the one after which the file is
    named, else the one that it fits best. Raises LatchworkError."""
    control = model.control
    if control is None:
        hint = "only the images of a control store can be told in instructions"
        raise LatchworkError(Problem("I124", "this machine has no microprogram", help=hint))
    content = read_image(path)
    rom = _store_rom(model, path, chip, content)
    seen = _View(model.netlist, control, rom)
    return DecodeReport(
        file=str(path),
        reference=rom.reference,
        part=rom.part,
        label=rom.label,
        decided=seen.decided(),
        rows=tuple(seen.row(row, content) for row in control.rows if row.addresses),
    )


def _store_rom(model: Model, path: Path, chip: str, content: bytes) -> Rom:
    binding = model.statements.microprogram
    store = [rom for rom in some_roms(model) if binding and rom.chip in binding.store]
    if chip and rom_named(model, chip) not in store:
        raise _no_store(f"{chip} does not belong to the control store", store)
    named = [rom for rom in store if rom.name == path.stem]
    wanted = [rom_named(model, chip)] if chip else named or store
    fitting = [rom for rom in wanted if rom.size == len(content)]
    if not fitting:
        label = (Label(Position(str(path))),)
        sizes = ", ".join(f"{rom.reference} {rom.size}" for rom in wanted)
        message = f"the file holds {len(content)} bytes, which is the size of no chip of the control store"
        raise LatchworkError(Problem("I120", message, label, f"sizes: {sizes}"))
    return min(fitting, key=lambda rom: count_differences(rom.content, content))


def _no_store(message: str, store: list[Rom]) -> LatchworkError:
    return LatchworkError(Problem("I123", message, help=f"its chips: {', '.join(rom.reference for rom in store)}"))


class _View:
    """One chip of the store: where it keeps a row, and what its bits mean."""

    def __init__(self, netlist: Netlist, control: ControlProgram, rom: Rom) -> None:
        pins = memory_pins(netlist.part_of(rom.chip))
        placed = netlist.chips[rom.chip].pins
        self._netlist = netlist
        self._control = control
        self._address = [placed[pin] for pin in pins.address] if pins else []
        data = [placed[pin] for pin in pins.data] if pins else []
        self.word = {net: bit for bit, net in enumerate(data) if net in control.word_nets}
        self._lines = cache(self._told)

    def decided(self) -> tuple[str, ...]:
        """Lines whose level follows from this chip, whatever its bits are."""
        low, high = (set(lines_of_word(self._netlist, dict.fromkeys(self.word, level))) for level in (0, 1))
        return tuple(sorted(low & high))

    def row(self, row: Row, content: bytes) -> DecodedRow:
        address = self._inside(row.addresses[0])
        should = sum((row.word >> self._control.word_nets.index(net) & 1) << bit for net, bit in self.word.items())
        care = sum(
            (~self._control.dont_care >> self._control.word_nets.index(net) & 1) << bit
            for net, bit in self.word.items()
        )
        same = all((content[self._inside(each)] ^ should) & care == 0 for each in row.addresses)
        if not same:
            address = next(place for place in map(self._inside, row.addresses) if (content[place] ^ should) & care)
        lines = self._lines(content[address])
        wanted = () if same else self._lines(should)
        return DecodedRow(row.block, row.step, row.conditions, address, lines, wanted, same)

    def _inside(self, logical: int) -> int:
        """The chip's own address of a logical one."""
        levels = {net: logical >> bit & 1 for bit, net in enumerate(self._control.address_nets)}
        levels[self._netlist.high] = 1
        return sum(levels.get(net, 0) << bit for bit, net in enumerate(self._address))

    def _told(self, byte: int) -> tuple[str, ...]:
        """Lines that are not at rest under a byte of this chip."""
        word: Mapping[NetId, int] = {net: byte >> bit & 1 for net, bit in self.word.items()}
        levels = lines_of_word(self._netlist, word)
        named = self._netlist.line_named
        return tuple(name for name, level in levels.items() if level != named[name].rest)
