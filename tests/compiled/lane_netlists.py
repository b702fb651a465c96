"""Random netlists for machines in lanes, and faults of every kind for any netlist."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import small_parts as parts
from random_netlists import _Maker

from latchwork.netlist import Netlist, edits
from latchwork.netlist.netlist import NO_NET, PinRef
from latchwork.parts import Direction, Part

KINDS = ("stuck pin", "stuck net", "open", "swapped", "bridged", "replaced")
GATES = (parts.AND, parts.NAND, parts.OR, parts.NOR, parts.XOR, parts.NOT, parts.CHOOSE)
NO_SIGNAL = (Direction.SUPPLY, Direction.GROUND, Direction.UNUSED)


class _Onward(_Maker):
    """Without the timers that a net starts, and without real loops: a piece of circuit reads what came before it.
    Loops of two-way buses, which only seem to be loops, stay."""

    def __init__(self, seed: int, size: int) -> None:
        super().__init__(seed, size)
        self.known = 0

    def any(self) -> str:
        chance = self.random.random()
        if chance < 0.02:
            return self.fresh()
        known = self.nets[: self.known or len(self.nets)]
        return self.random.choice(known[-24:] if chance < 0.8 else known)

    def piece(self, make: Callable[[], None]) -> None:
        self.known = len(self.nets)
        make()

    def cross_coupled(self) -> None:
        self.bus()

    def element(self) -> None:
        self.lopsided()


def onward_netlist(seed: int, size: int = 24) -> Netlist:
    """A random netlist without real loops; the same for the same seed."""
    return _Onward(seed, size).make()


def mixed_faults(netlist: Netlist, count: int, random: Random) -> list[tuple[str, Netlist]]:
    """So many faults, the kinds in turn."""
    found: list[tuple[str, Netlist]] = []
    while len(found) < count:
        kind = KINDS[len(found) % len(KINDS)]
        try:
            found.append((kind, _fault(netlist, kind, random)))
        except ValueError:
            continue  # both rails bridged, or a part that does not fit
    return found


def _fault(netlist: Netlist, kind: str, random: Random) -> Netlist:
    pins = [
        PinRef(number, pin)
        for number, chip in enumerate(netlist.chips)
        for pin, net in enumerate(chip.pins)
        if net != NO_NET and netlist.part_of(number).pins[pin].direction not in NO_SIGNAL
    ]
    nets = [net for net in range(len(netlist.nets)) if net not in (netlist.high, netlist.low)]
    match kind:
        case "stuck pin":
            return edits.stuck(netlist, random.choice(pins), random.randrange(2))
        case "stuck net":
            return edits.stuck(netlist, random.choice(nets), random.randrange(2))
        case "open":
            return edits.opened(netlist, random.choice(pins))
        case "swapped":
            return edits.swapped(netlist, random.choice(pins), random.choice(pins))
        case "bridged":
            return edits.bridged(netlist, random.choice(nets), random.choice(nets))
        case _:
            return _replaced(netlist, random)


def _replaced(netlist: Netlist, random: Random) -> Netlist:
    """Another gate, or another register, in the place of one."""
    chip = random.randrange(len(netlist.chips))
    others: tuple[Part, ...] = GATES if netlist.part_of(chip) in GATES else (parts.FLIP_FLOP, parts.LATCH)
    part = random.choice(others)
    if part == netlist.part_of(chip):
        raise ValueError("the same part again")
    return edits.replaced(netlist, chip, part)
