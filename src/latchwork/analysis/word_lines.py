"""Which control lines a control word sets, followed through decoders, gates and control registers, as far as the
known bits of the word reach. A word need not be known whole: one of several ROMs decides some lines by itself."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.logic.evaluate import evaluate_known
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Behaviour

Known = dict[str, tuple[int, int]]
"""Variable -> (bits, which of them are known)."""

_MOST_PASSES = 64


def lines_of_word(netlist: Netlist, word: Mapping[NetId, int]) -> dict[str, int]:
    """Line -> level, for the lines that the given levels of word nets decide. A register is taken to hold what it
    takes in the clock that follows; the phases under which lines take effect are given."""
    levels = dict(word)
    for line in netlist.lines:
        levels.update(line.phase)
    levels.update({assumed.net: assumed.level for assumed in netlist.assumptions})
    levels.update({netlist.high: 1, netlist.low: 0})
    reached = dict(levels)
    for _ in range(_MOST_PASSES):
        more = _pass(netlist, reached)
        if not more:
            break
        reached.update(more)
    return {line.name: reached[line.net] for line in netlist.lines if line.net in reached}


def _pass(netlist: Netlist, levels: Mapping[NetId, int]) -> dict[NetId, int]:
    """What becomes known by looking at each chip that a known net reaches."""
    chips = {at.chip for net in levels if net not in (netlist.high, netlist.low) for at in netlist.pins_on[net]}
    found: dict[NetId, int] = {}
    for chip in sorted(chips):
        found.update((net, level) for net, level in _driven(netlist, chip, levels).items() if net not in levels)
    return found


def _driven(netlist: Netlist, chip: ChipId, levels: Mapping[NetId, int]) -> dict[NetId, int]:
    behaviour, part = netlist.part_of(chip).behaviour, netlist.part_of(chip)
    if behaviour.memories:
        return {}
    inputs = _inputs(netlist, chip, levels)
    inputs.update(_taken(behaviour, inputs))
    found: dict[NetId, int] = {}
    for drive in behaviour.drives:
        enabled = (1, 1) if drive.enable is None else evaluate_known(drive.enable, inputs)
        if enabled != (1, 1):
            continue
        bits, known = evaluate_known(drive.value, inputs)
        for bit, pin in enumerate(part.ports[drive.port]):
            net = netlist.chips[chip].pins[pin]
            if known >> bit & 1 and net != NO_NET:
                found[net] = bits >> bit & 1
    return found


def _inputs(netlist: Netlist, chip: ChipId, levels: Mapping[NetId, int]) -> Known:
    pins = netlist.chips[chip].pins
    found: Known = {}
    for port, indices in netlist.part_of(chip).ports.items():
        nets = [pins[index] for index in indices]
        bits = sum(levels.get(net, 0) << bit for bit, net in enumerate(nets))
        found[port] = (bits, sum((net in levels) << bit for bit, net in enumerate(nets)))
    return found


def _taken(behaviour: Behaviour, inputs: Known) -> Known:
    """What registers and latches take from the inputs; their clears are at rest."""
    registers = {register.name: evaluate_known(register.updates[0].data, inputs) for register in behaviour.registers}
    return registers | {latch.name: evaluate_known(latch.data, inputs) for latch in behaviour.latches}
