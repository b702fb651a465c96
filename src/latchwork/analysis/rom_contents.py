"""The bytes of every ROM, whole: what image files hold and what a simulated machine runs from are these same bytes."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.analysis.one_image import one_image
from latchwork.model import Copied, Model
from latchwork.netlist import ChipId, Netlist
from latchwork.netlist.queries import chip_name
from latchwork.parts import Memory
from latchwork.problems import Label, LatchworkError, Problem

FILL = 0xFF
"""What unused bytes hold: the erased state of EPROM, EEPROM and flash memories (common practice)."""


def kept_memory(netlist: Netlist, chip: ChipId) -> Memory | None:
    """The memory of a chip whose contents outlive power, None where it has none."""
    return next((memory for memory in netlist.part_of(chip).behaviour.memories if memory.keeps), None)


def rom_bytes(model: Model) -> dict[ChipId, bytes]:
    """For each ROM that has contents all its bytes, by the chip's own address pins; what is not given is erased.

    The contents of memories that are copied at the start stand in their sources; ROMs that share an image hold what
    each of them needs. Raises LatchworkError where two chips of one image need different bytes.
    """
    found = {}
    for chip, content in sorted(_with_sources(model).items()):
        memory = kept_memory(model.netlist, chip)
        if memory is not None:
            found[chip] = content.ljust(1 << memory.address_width, bytes([FILL]))
    for shared in model.statements.shared:
        found |= one_image(model.netlist, shared, found, FILL)
    return dict(sorted(found.items()))


def waking_bytes(model: Model, roms: Mapping[ChipId, bytes]) -> dict[ChipId, bytes]:
    """What memories hold when power comes on: the ROMs, and the memories that hardware copies them into unless that
    is simulated."""
    found = dict(roms)
    for copied in model.statements.copied:
        if not copied.simulated:
            found |= _into_targets(model.netlist, copied, roms)
    return found


def size_of(netlist: Netlist, chip: ChipId) -> int:
    """Words of the chip's memory."""
    return 1 << netlist.part_of(chip).behaviour.memories[0].address_width


def _with_sources(model: Model) -> dict[ChipId, bytes]:
    """The contents, those of copied memories put into their sources. Raises LatchworkError M410."""
    found = dict(model.contents)
    for copied in model.statements.copied:
        if any(chip in model.contents for chip in copied.targets):
            held = _joined(model.netlist, copied.sources, found)
            _put_targets(model, copied, held)
            found |= _parted(model.netlist, copied.sources, held)
    return found


def _put_targets(model: Model, copied: Copied, held: bytearray) -> None:
    """Put what targets are to hold among the bytes of their sources; erased bytes there are taken for free ones."""
    at = copied.start
    for target in copied.targets:
        size = size_of(model.netlist, target)
        wanted = model.contents.get(target, b"").ljust(size, bytes([FILL]))
        for place, byte in enumerate(wanted if target in model.contents else b"", start=at):
            if held[place] not in (FILL, byte):
                raise _twice(model, copied, target, (place, held[place], byte))
        held[at : at + size] = wanted if target in model.contents else held[at : at + size]
        at += size


def _twice(model: Model, copied: Copied, target: ChipId, found: tuple[int, int, int]) -> LatchworkError:
    place, given, wanted = found
    sources = ", ".join(chip_name(model.netlist, chip) for chip in copied.sources)
    message = f"byte {place:X} of {sources} is {given:02X} by another statement, and {wanted:02X} for "
    message += f"{chip_name(model.netlist, target)}, which is filled from there"
    hint = "move one of them: `start=` of m.copied says where the copied bytes begin"
    return LatchworkError(Problem("M410", message, (Label(copied.position),), hint))


def _into_targets(netlist: Netlist, copied: Copied, roms: Mapping[ChipId, bytes]) -> dict[ChipId, bytes]:
    if not any(chip in roms for chip in copied.sources):
        return {}
    return _parted(netlist, copied.targets, _joined(netlist, copied.sources, roms)[copied.start :])


def _joined(netlist: Netlist, chips: tuple[ChipId, ...], contents: Mapping[ChipId, bytes]) -> bytearray:
    """The bytes of chips one after the other."""
    fill = bytes([FILL])
    return bytearray(b"".join(contents.get(chip, b"").ljust(size_of(netlist, chip), fill) for chip in chips))


def _parted(netlist: Netlist, chips: tuple[ChipId, ...], held: bytearray) -> dict[ChipId, bytes]:
    found, at = {}, 0
    for chip in chips:
        size = size_of(netlist, chip)
        found[chip] = bytes(held[at : at + size])
        at += size
    return found
