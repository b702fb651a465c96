"""What each store and decode ROM holds, byte by byte in its own pin order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from latchwork.analysis.store import StoreChip, StoreWiring
from latchwork.netlist import ChipId, NetId

FILL = 0xFF
"""What cells hold that no address of the running machine reaches."""


def image(
    chip: StoreChip, store: StoreWiring, address_nets: Sequence[NetId], words: Mapping[int, int], nets: Sequence[NetId]
) -> bytes:
    """``words``: logical address (bit i: ``address_nets[i]``) -> word (bit i: ``nets[i]``)."""
    pins = [_pin(net, store, address_nets) for net in chip.address]
    columns = [(pin, nets.index(net)) for pin, net in enumerate(chip.data) if net in nets]
    content = bytearray([FILL]) * (1 << len(pins))
    fixed = sum(level << pin for pin, (bit, level) in enumerate(pins) if bit < 0)
    moving = [(pin, bit) for pin, (bit, _) in enumerate(pins) if bit >= 0]
    for address, word in words.items():
        cell = fixed | sum((address >> bit & 1) << pin for pin, bit in moving)
        content[cell] = sum((word >> bit & 1) << pin for pin, bit in columns)
    return bytes(content)


def _pin(net: NetId, store: StoreWiring, address_nets: Sequence[NetId]) -> tuple[int, int]:
    """The bit of the logical address at a pin, or -1 and the constant level there."""
    if net in address_nets:
        return address_nets.index(net), 0
    return -1, store.role(net).role.level


def images(
    chips: Iterable[StoreChip],
    store: StoreWiring,
    address_nets: Sequence[NetId],
    words: Mapping[int, int],
    nets: Sequence[NetId],
) -> tuple[tuple[ChipId, bytes], ...]:
    """All chips of a store."""
    return tuple((chip.chip, image(chip, store, address_nets, words, nets)) for chip in chips)
