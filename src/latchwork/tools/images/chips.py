"""The ROM chips of a machine and the bytes that each of them holds: the one place from which images come."""

from __future__ import annotations

import re
from dataclasses import dataclass

from latchwork.analysis.rom_contents import kept_memory, rom_bytes
from latchwork.model import Model
from latchwork.netlist import ChipId, Netlist
from latchwork.netlist.queries import chip_name
from latchwork.parts import Memory
from latchwork.problems import Label, LatchworkError, Problem


@dataclass(frozen=True)
class Rom:
    """A ROM chip with its contents. ``name`` is its place on the board, the base of its file names; ``content`` has
    ``size`` bytes, addressed by the chip's own address pins, lowest first."""

    chip: ChipId
    reference: str
    part: str
    board: str
    label: str
    holds: str
    name: str
    memory: Memory
    content: bytes

    @property
    def size(self) -> int:
        """In words, which are bytes or less."""
        return len(self.content)


def roms(model: Model) -> tuple[Rom, ...]:
    """All ROM chips that have contents, in the order of the netlist."""
    return tuple(_rom(model, chip, content) for chip, content in rom_bytes(model).items())


def empty_roms(model: Model) -> tuple[str, ...]:
    """References of ROM chips that nothing gives contents to."""
    held = rom_bytes(model)
    chips = enumerate(model.netlist.chips)
    return tuple(chip.reference for index, chip in chips if kept_memory(model.netlist, index) and index not in held)


def rom_named(model: Model, name: str) -> Rom:
    """The ROM of a reference ("U21") or a base name. Raises LatchworkError."""
    found = roms(model)
    for rom in found:
        if name.casefold() in (rom.reference.casefold(), rom.name.casefold()):
            return rom
    empty = next((each for each in empty_roms(model) if each.casefold() == name.casefold()), "")
    if empty:
        raise no_contents(model, empty)
    there = ", ".join(rom.reference for rom in found) or "none with contents"
    raise LatchworkError(Problem("I122", f'the machine has no ROM "{name}"', help=f"its ROMs: {there}"))


def no_contents(model: Model, reference: str, labels: tuple[Label, ...] = ()) -> LatchworkError:
    """Nothing says what a ROM is to hold, so that nothing can be held against it."""
    name = chip_name(model.netlist, model.netlist.chip_named[reference])
    message = f"nothing says what {name} is to hold"
    return LatchworkError(Problem("I127", message, labels, "name the program that goes into it: --program FILE"))


def some_roms(model: Model) -> tuple[Rom, ...]:
    """Like ``roms``, but LatchworkError where there is none."""
    found = roms(model)
    if not found:
        hint = "a microprogram, a table, an image or a program gives contents to a ROM"
        raise LatchworkError(Problem("I121", "no ROM of this machine has contents", help=hint))
    return found


def _rom(model: Model, chip: ChipId, content: bytes) -> Rom:
    netlist = model.netlist
    placed = netlist.chips[chip]
    memory = kept_memory(netlist, chip)
    assert memory is not None
    return Rom(
        chip=chip,
        reference=placed.reference,
        part=netlist.part_of(chip).name,
        board=netlist.boards[placed.board].name,
        label=placed.label,
        holds=_holds(model, chip) + _same_as(model, chip),
        name=file_name(netlist, chip),
        memory=memory,
        content=content,
    )


def file_name(netlist: Netlist, chip: ChipId) -> str:
    """The base of the names of a chip's files: its place on the board."""
    placed = netlist.chips[chip]
    words = (netlist.boards[placed.board].name, placed.reference, netlist.part_of(chip).name)
    return "-".join(_file_word(word) for word in words if word)


def _file_word(text: str) -> str:
    """Only letters and digits that every file system takes."""
    return re.sub(r"[^A-Za-z0-9_]+", "_", text)


def _same_as(model: Model, chip: ChipId) -> str:
    """The chips that are burned with the same image."""
    groups = [shared.chips for shared in model.statements.shared if chip in shared.chips]
    others = [model.netlist.chips[other].reference for group in groups for other in group if other != chip]
    return f", same image as {', '.join(others)}" if others else ""


def _holds(model: Model, chip: ChipId) -> str:
    statements = model.statements
    binding = statements.microprogram
    copies = {target for copied in statements.copied if chip in copied.sources for target in copied.targets}
    if binding and {chip, *copies} & set(binding.store):
        return "control store"
    if binding and {chip, *copies} & set(binding.decode):
        return "start addresses"
    if any(table.chip == chip for table in statements.tables):
        return "table"
    if any(image.chip == chip for image in statements.images):
        return "image"
    return "program"
