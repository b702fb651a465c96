"""ROMs that are burned with one image: what each of them needs of it, and whether that goes together.

Which bytes a chip needs is read from its wiring: cells that an address pin on a rail (or on a net that is assumed to be
constant) keeps out of reach are free, and so are bits whose data pin is joined to nothing. Every cell within reach
counts, also one that nothing was written for: whether a fill byte is ever read can't be told.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from latchwork.model import SharedImage
from latchwork.netlist import ChipId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import chip_name, memory_pins
from latchwork.problems import Label, LatchworkError, Problem


def one_image(
    netlist: Netlist, shared: SharedImage, contents: Mapping[ChipId, bytes], fill: int
) -> dict[ChipId, bytes]:
    """The image of each chip of the group, nothing where none of them has contents. Raises LatchworkError M409.

    A chip without contents takes what the others need; free bits hold what some chip was given there, else 1.
    """
    given = [chip for chip in shared.chips if chip in contents]
    if not given:
        return {}
    image = bytearray([fill]) * len(contents[given[0]])
    for chip in reversed(given):
        for cell, byte in enumerate(contents[chip]):
            image[cell] = byte if byte != fill else image[cell]
    owners: dict[int, list[tuple[ChipId, int]]] = {}
    problems = list(_settle(netlist, shared, {chip: contents[chip] for chip in given}, image, owners))
    if problems:
        raise LatchworkError(problems)
    return dict.fromkeys(shared.chips, bytes(image))


def _settle(
    netlist: Netlist,
    shared: SharedImage,
    contents: Mapping[ChipId, bytes],
    image: bytearray,
    owners: dict[int, list[tuple[ChipId, int]]],
) -> Iterator[Problem]:
    """Put what each chip needs into the image; one problem for each pair of chips that do not go together."""
    clashes: dict[tuple[ChipId, ChipId], list[int]] = {}
    for chip, content in contents.items():
        tied, levels, bits = needs(netlist, chip)
        for cell, byte in enumerate(content):
            if cell & tied != levels:
                continue
            for other, mask in owners.get(cell, ()):
                if (contents[other][cell] ^ byte) & mask & bits:
                    clashes.setdefault((other, chip), []).append(cell)
            owners.setdefault(cell, []).append((chip, bits))
            image[cell] = image[cell] & ~bits | byte & bits
    for (first, second), cells in clashes.items():
        yield _clash(netlist, shared, {chip: contents[chip] for chip in (first, second)}, cells)


def needs(netlist: Netlist, chip: ChipId) -> tuple[int, int, int]:
    """Mask of the chip's address bits that never change, their levels, and a mask of its data bits that are wired."""
    pins = memory_pins(netlist.part_of(chip))
    if pins is None:
        return 0, 0, -1
    constant = {netlist.low: 0, netlist.high: 1} | {item.net: item.level for item in netlist.assumptions}
    nets = [netlist.chips[chip].pins[pin] for pin in pins.address]
    tied = sum(1 << bit for bit, net in enumerate(nets) if net in constant)
    levels = sum(constant[net] << bit for bit, net in enumerate(nets) if net in constant)
    wired = sum(1 << bit for bit, pin in enumerate(pins.data) if netlist.chips[chip].pins[pin] != NO_NET)
    return tied, levels, wired


def _clash(netlist: Netlist, shared: SharedImage, contents: Mapping[ChipId, bytes], cells: list[int]) -> Problem:
    at = min(cells)
    both = " and ".join(f"{content[at]:02X} for {chip_name(netlist, chip)}" for chip, content in contents.items())
    message = f"the shared image would hold {both} at its address {at:X}"
    if len(cells) > 1:
        message += f", and differ in {len(cells)} places"
    labels = (
        Label(shared.position),
        *(Label(netlist.chips[chip].position, chip_name(netlist, chip)) for chip in contents),
    )
    hint = "tie an address pin of the one LOW and of the other HIGH, so that each reads a part of its own, "
    return Problem("M409", message, labels, hint + "or leave one out of m.share_image")
