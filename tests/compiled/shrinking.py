"""A netlist on which engines differ, made small and kept as a text case.

Chips are taken away as long as it still fails: the delta debugging of Zeller and Hildebrandt, "Simplifying and
isolating failure-inducing input", IEEE Trans. Software Eng. 28 (2002), then nets that nothing is on. A case is the
text form of a netlist in ``tests/cases``; its name ends in the seed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from latchwork.netlist import Netlist
from latchwork.netlist.netlist import NO_NET, Chip
from latchwork.netlist.text import parsed, written

CASES = Path(__file__).parent.parent / "cases"
Fails = Callable[[Netlist], bool]


def shrunk(netlist: Netlist, fails: Fails) -> Netlist:
    """A netlist with as few chips as may be that still fails; no chip of it can be left out."""
    chips, pieces = netlist.chips, 2
    while chips:
        size = -(-len(chips) // pieces)
        for at in range(0, len(chips), size):
            fewer = chips[:at] + chips[at + size :]
            if fails(replace(netlist, chips=fewer)):
                chips, pieces = fewer, max(pieces - 1, 2)
                break
        else:
            if size == 1:
                break
            pieces = min(2 * pieces, len(chips))
    small = replace(netlist, chips=chips)
    tidy = _without_idle_nets(small)
    return tidy if fails(tidy) else small


def _without_idle_nets(netlist: Netlist) -> Netlist:
    used = {net for chip in netlist.chips for net in chip.pins if net != NO_NET}
    used |= {netlist.high, netlist.low, netlist.clock} - {NO_NET}
    place = {net: number for number, net in enumerate(sorted(used))} | {NO_NET: NO_NET}
    kinds = sorted({chip.part for chip in netlist.chips})

    def moved(chip: Chip) -> Chip:
        return replace(chip, pins=tuple(place[net] for net in chip.pins), part=kinds.index(chip.part))

    return replace(
        netlist,
        parts=tuple(netlist.parts[kind] for kind in kinds),
        nets=tuple(netlist.nets[net] for net in sorted(used)),
        chips=tuple(map(moved, netlist.chips)),
        high=place[netlist.high],
        low=place[netlist.low],
        clock=place[netlist.clock],
    )


def keep(netlist: Netlist, seed: int, folder: Path = CASES) -> Path:
    """Write a case; where it is."""
    path = folder / f"random_{seed}.netlist"
    path.write_text(written(netlist), encoding="utf-8")
    return path


def case_at(path: Path) -> tuple[Netlist, int]:
    """The netlist and the seed of a case."""
    return parsed(path.read_text(encoding="utf-8"), path.name), int(path.stem.rpartition("_")[2])
