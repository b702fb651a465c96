"""A person's hands: setting switches, buttons and hand clocks by the name of the net or port they are on."""

from __future__ import annotations

from latchwork.engines.protocol import Simulation
from latchwork.model import Model
from latchwork.netlist import ChipId, NetId
from latchwork.parts import TieKind, TimerKind
from latchwork.problems import LatchworkError, Problem
from latchwork.tools.run.names import nets_named


def set_by_hand(model: Model, simulation: Simulation, name: str, value: int) -> None:
    """Set every switch or button on the nets of a name. Raises LatchworkError."""
    nets = nets_named(model, name)
    if not 0 <= value < 1 << len(nets):
        message = f'{value} does not fit "{name}", which takes 0 to {(1 << len(nets)) - 1}'
        raise LatchworkError(Problem("R103", message))
    hands = [_hand(model, net) for net in nets]
    if not all(hands):
        missing = next(model.netlist.nets[net].name for net, hand in zip(nets, hands, strict=True) if not hand)
        message = f'"{name}" can\'t be set: no switch, button or hand clock is on {missing}'
        raise LatchworkError(Problem("R102", message, help="only what a hand can reach on the bench can be set"))
    for bit, hand in enumerate(hands):
        assert hand is not None
        _set(simulation, hand, value >> bit & 1)


Hand = tuple[ChipId, str, int]
"""A chip, the name of its contact ("" of a hand-operated source), and the level that it gives when closed."""


def _hand(model: Model, net: NetId) -> Hand | None:
    for chip, pin in model.netlist.pins_on[net]:
        behaviour = model.netlist.part_of(chip).behaviour
        if any(timer.kind is TimerKind.HAND for timer in behaviour.timers) and behaviour.drives:
            return chip, "", 1
        contact = _contact(model, chip, pin)
        if contact:
            return contact
    return None


def _contact(model: Model, chip: ChipId, pin: int) -> Hand | None:
    """The switch at a pin whose other side is on a rail."""
    netlist, ports = model.netlist, model.netlist.part_of(chip).ports
    for tie in netlist.part_of(chip).behaviour.ties:
        ends = (ports[tie.a][0], ports[tie.b][0])
        if tie.kind is TieKind.SWITCH and pin in ends:
            other = netlist.chips[chip].pins[ends[1] if ends[0] == pin else ends[0]]
            if other in (netlist.high, netlist.low):
                return chip, tie.name, int(other == netlist.high)
    return None


def _set(simulation: Simulation, hand: Hand, level: int) -> None:
    chip, contact, closed = hand
    if contact:
        simulation.set_switch(chip, level == closed, contact)
    else:
        simulation.set_hand(chip, level)
