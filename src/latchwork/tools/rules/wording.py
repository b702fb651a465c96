"""Chips, pins, nets and rows as sentences speak of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from latchwork.base.position import NOWHERE
from latchwork.model import Row
from latchwork.netlist import ChipId, NetId, Netlist, PinRef
from latchwork.netlist.queries import chip_name, pin_name
from latchwork.problems import Label

MOST_PLACES = 3
"""How many places of one kind a problem shows before it says how many more there are."""


def listed(words: Sequence[str]) -> str:
    """a, b and c."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def counted(number: int, thing: str) -> str:
    """1 input, 2 inputs."""
    return f"{number} {thing}{'s' * (number != 1)}"


def nets_in_words(netlist: Netlist, nets: Iterable[NetId]) -> str:
    """Nets by name; runs of a bus as "data[0] to data[7]"."""
    wanted, words = set(nets), []
    for bus in netlist.buses:
        words += _runs(netlist, [net for net in bus.nets if net in wanted], bus.nets)
        wanted -= set(bus.nets)
    return listed([*words, *(netlist.nets[net].name for net in sorted(wanted))])


def _runs(netlist: Netlist, nets: list[NetId], whole: tuple[NetId, ...]) -> list[str]:
    runs: list[list[NetId]] = []
    for net in nets:
        if runs and whole.index(net) == whole.index(runs[-1][-1]) + 1:
            runs[-1].append(net)
        else:
            runs.append([net])
    return [_run(netlist, run) for run in runs]


def _run(netlist: Netlist, run: list[NetId]) -> str:
    first, last = netlist.nets[run[0]].name, netlist.nets[run[-1]].name
    return first if len(run) == 1 else f"{first} {'to' if len(run) > 2 else 'and'} {last}"


def bus_groups(netlist: Netlist, nets: Iterable[NetId]) -> list[tuple[NetId, ...]]:
    """The nets, those of one bus together."""
    home = {net: bus.name for bus in netlist.buses for net in bus.nets}
    groups: dict[str, list[NetId]] = {}
    for net in nets:
        groups.setdefault(home.get(net, f" {net}"), []).append(net)
    return [tuple(group) for group in groups.values()]


def pins_in_words(netlist: Netlist, chip: ChipId, pins: Sequence[int]) -> str:
    """Names of pins of a chip."""
    return listed([netlist.part_of(chip).pins[pin].name for pin in pins])


def net_label(netlist: Netlist, net: NetId, text: str) -> tuple[Label, ...]:
    """The place where a net is named; rails have none."""
    position = netlist.nets[net].position
    return (Label(position, text),) if position != NOWHERE else ()


def chip_label(netlist: Netlist, chip: ChipId, text: str) -> Label:
    """A chip by name, and what it does."""
    return Label(netlist.chips[chip].position, f"{chip_name(netlist, chip)} {text}".strip())


def pin_label(netlist: Netlist, at: PinRef, text: str) -> Label:
    """A pin of a chip, and what it does: "74HCT245 U7 pin 15 (B3) reads it"."""
    part = netlist.part_of(at.chip).name
    return Label(netlist.chips[at.chip].position, f"{part} {pin_name(netlist, at)} {text}".strip())


def first_pins(netlist: Netlist, pins: Sequence[PinRef], text: str) -> tuple[Label, ...]:
    """The first of some pins, one a chip, and how many more there are."""
    chips = {at.chip: at for at in reversed(pins)}
    order = sorted(chips.values())
    shown = [pin_label(netlist, at, text) for at in order[:MOST_PLACES]]
    more = len(order) - MOST_PLACES
    return (*shown, *([Label(NOWHERE, f"and {counted(more, 'more chip')}")] if more > 0 else []))


def row_in_words(row: Row) -> str:
    """A row of the microprogram: "step 2 of `add r` with carry = 1"."""
    given = ", ".join(f"{name} = {level}" for name, level in row.conditions)
    return f"step {row.step} of `{row.block}`" + (f" with {given}" if given else "")
