"""Power-up values and other free choices of a seeded run: a hash of the seed with a path, the same in every engine.

The value for a key is read from the BLAKE2b digest (RFC 7693) of ``seed:key``, bit 0 of the value being the
lowest bit of the digest's first byte. Keys are

- ``CHIP.STATE`` for registers and latches, ``CHIP.MEMORY.CELL`` for memory cells, ``CHIP.PORT.BIT`` for keepers,
- ``net NAME`` for what a net reads as that floats, is fought over or oscillates, and for feedback at power-up; the
  NAME of a pin that is joined to nothing is ``CHIP.PIN``,

where CHIP is the chip's label, or its reference where the label is empty or shared with another chip.
"""

from __future__ import annotations

from collections import Counter
from hashlib import blake2b

from latchwork.netlist import Netlist


def seeded(seed: int, key: str, width: int = 1) -> int:
    """``width`` bits (up to 512) that depend on nothing but seed and key."""
    digest = blake2b(f"{seed}:{key}".encode()).digest()
    return int.from_bytes(digest, "little") & ((1 << width) - 1)


def chip_keys(netlist: Netlist) -> tuple[str, ...]:
    """The path of each chip for hashing: its label where that is its own, else its reference."""
    counts = Counter(chip.label for chip in netlist.chips)
    return tuple(chip.label if chip.label and counts[chip.label] == 1 else chip.reference for chip in netlist.chips)
