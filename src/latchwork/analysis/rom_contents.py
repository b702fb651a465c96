"""The bytes of every ROM, whole: what image files hold and what a simulated machine runs from are these same bytes."""

from __future__ import annotations

from latchwork.model import Model
from latchwork.netlist import ChipId, Netlist
from latchwork.parts import Memory

FILL = 0xFF
"""What unused bytes hold: the erased state of EPROM, EEPROM and flash memories (common practice)."""


def kept_memory(netlist: Netlist, chip: ChipId) -> Memory | None:
    """The memory of a chip whose contents outlive power, None where it has none."""
    return next((memory for memory in netlist.part_of(chip).behaviour.memories if memory.keeps), None)


def rom_bytes(model: Model) -> dict[ChipId, bytes]:
    """For each ROM that has contents all its bytes, by the chip's own address pins; what is not given is erased."""
    found = {}
    for chip in sorted(model.contents):
        memory = kept_memory(model.netlist, chip)
        if memory is not None:
            found[chip] = model.contents[chip].ljust(1 << memory.address_width, bytes([FILL]))
    return found
