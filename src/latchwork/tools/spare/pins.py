"""Free units, decoder outputs and bits of the control word: what the wiring alone shows."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from latchwork.analysis.control_words import ControlWords, shown_on
from latchwork.analysis.levels import Leaf
from latchwork.analysis.wiring import Wiring
from latchwork.model import Model
from latchwork.netlist import ChipId, NetId, Netlist, PinRef
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import memory_pins
from latchwork.parts import Direction, Unit
from latchwork.reports.spare import SparePins


def _found(netlist: Netlist, chip: ChipId, names: list[str]) -> SparePins:
    this = netlist.chips[chip]
    return SparePins(
        this.reference, netlist.part_of(chip).name, netlist.boards[this.board].name, this.label, tuple(names)
    )


def spare_gates(netlist: Netlist) -> Iterator[SparePins]:
    """Units whose inputs all stand on rails or open, and whose outputs lead nowhere."""
    for chip in range(len(netlist.chips)):
        names = [unit.name for unit in netlist.part_of(chip).units if _is_spare(netlist, chip, unit)]
        if names:
            yield _found(netlist, chip, names)


def _is_spare(netlist: Netlist, chip: ChipId, unit: Unit) -> bool:
    part = netlist.part_of(chip)
    shared = Counter(port for other in part.units for _, port in other.ports)
    pins = [pin for _, port in unit.ports if shared[port] == 1 for pin in part.ports[port]]
    rails = (netlist.high, netlist.low, NO_NET)
    return all(
        _leads_nowhere(netlist, chip, pin)
        if part.pins[pin].direction is Direction.OUTPUT
        else netlist.chips[chip].pins[pin] in rails
        for pin in pins
    )


def _leads_nowhere(netlist: Netlist, chip: ChipId, pin: int) -> bool:
    """Whether an output is alone on its net."""
    net = netlist.chips[chip].pins[pin]
    return net == NO_NET or netlist.pins_on[net] == (PinRef(chip, pin),)


def spare_decoder_outputs(netlist: Netlist) -> Iterator[SparePins]:
    """Outputs of decoders that lead nowhere, the lowest first, those of units that are free whole left out."""
    for chip in range(len(netlist.chips)):
        part = netlist.part_of(chip)
        if part.kind != "decoder":
            continue
        free = {
            pin
            for unit in part.units
            if _is_spare(netlist, chip, unit)
            for _, port in unit.ports
            for pin in part.ports[port]
        }
        outputs = [pin for pin, item in enumerate(part.pins) if item.direction is Direction.OUTPUT and pin not in free]
        names = [part.pins[pin].name for pin in outputs if _leads_nowhere(netlist, chip, pin)]
        if names:
            yield _found(netlist, chip, sorted(names, key=_counting))


def _counting(name: str) -> list[tuple[str, int]]:
    """Sorts Y10 behind Y9."""
    return [(letters, int(digits or 0)) for letters, digits in re.findall(r"(\D*)(\d*)", name)]


def spare_word_bits(model: Model) -> Iterator[SparePins]:
    """Data pins of the control store that set nothing: open, or kept in a register whose output leads nowhere."""
    binding, netlist = model.statements.microprogram, model.netlist
    if binding is None:
        return
    idle = _idle_word_nets(model)
    for chip in binding.store:
        pins = memory_pins(netlist.part_of(chip))
        for_data = pins.data if pins else ()
        names = [netlist.part_of(chip).pins[pin].name for pin in for_data if netlist.chips[chip].pins[pin] in idle]
        if names:
            yield _found(netlist, chip, names)


def _idle_word_nets(model: Model) -> set[NetId]:
    wiring = Wiring(model.netlist)
    registered = ControlWords(model, wiring).registered
    kept: dict[int, list[Leaf]] = {}
    for leaf, bit in registered.items():
        kept.setdefault(bit, []).append(leaf)
    nets = model.control.word_nets if model.control else ()
    return {NO_NET} | {net for bit, net in enumerate(nets) if _is_idle(wiring, net, kept.get(bit, []))}


def _is_idle(wiring: Wiring, net: NetId, kept: list[Leaf]) -> bool:
    """Whether nothing reads the net but registers whose outputs lead nowhere."""
    readers = {at.chip for at in wiring.netlist.pins_on[net] if wiring.netlist.part_of(at.chip).kind != "memory"}
    if readers - {leaf.place for leaf in kept}:
        return False
    return not any(_is_read(wiring, leaf, shown) for leaf in kept for shown in _shown(wiring, leaf))


def _shown(wiring: Wiring, leaf: Leaf) -> list[NetId]:
    part = wiring.netlist.part_of(leaf.place)
    return [net for net in shown_on(wiring, leaf.place, part, leaf.name, leaf.bit) if net != NO_NET]


def _is_read(wiring: Wiring, leaf: Leaf, net: NetId) -> bool:
    return any(at.chip != leaf.place for at in wiring.netlist.pins_on[net])
