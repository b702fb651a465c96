"""What stands around the chips on a board: resistors, lamps, switches, clocks, resets, timing elements."""

from __future__ import annotations

from latchwork.design.connect import connect, only_pin
from latchwork.design.draft import Draft, DraftChip
from latchwork.design.gates import add_gate
from latchwork.design.idle import Idle
from latchwork.design.parts import part_named
from latchwork.design.signals import HIGH, LOW, Level, Net
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Direction


def add_part(draft: Draft, name: str, label: str, **parameters: int | str) -> DraftChip:
    """A part outside of the series, without its pins joined."""
    return draft.add_chip(part_named(name, draft.family), label, **parameters)


def add_resistor(draft: Draft, a: Net | Level, b: Net | Level, ohms: int, label: str) -> None:
    chip = add_part(draft, "resistor", label, ohms=ohms)
    _join_ends(draft, chip, a, b)


def _join_ends(draft: Draft, chip: DraftChip, a: Net | Level, b: Net | Level) -> None:
    """Join the two passive ends of a part, in the order of its pins."""
    first, second = [pin.name for pin in chip.part.pins if pin.direction is Direction.PASSIVE]
    connect(draft, chip, {first: a, second: b})


def hold_when_idle(draft: Draft, net: Net, idle: Idle) -> None:
    """A pull resistor or a keeper on a net."""
    if idle.kind == "keep":
        chip = add_part(draft, "bus keeper", f"{net.name}.keeper")
        pin = next(pin for pin in chip.part.pins if pin.direction not in (Direction.SUPPLY, Direction.GROUND))
        connect(draft, chip, {pin.name: net})
    else:
        add_resistor(draft, net, HIGH if idle.kind == "high" else LOW, idle.ohms, f"{net.name}.pull")


def add_lamp(draft: Draft, net: Net, colour: str, ohms: int) -> None:
    """A light-emitting diode from the net to ground, through a resistor where ``ohms`` is not 0."""
    chip = add_part(draft, "LED", f"{net.name}.lamp", colour=colour)
    if not ohms:
        connect(draft, chip, {"A": net, "K": LOW})
        return
    between = draft.add_net(f"{chip.label}.K", declared=False)
    connect(draft, chip, {"A": net, "K": between})
    add_resistor(draft, between, LOW, ohms, f"{net.name}.lamp_resistor")


def add_switch(draft: Draft, net: Net, part: str, closed: Level, ohms: int) -> None:
    """A switch or button that ties the net to one rail, and a resistor to the other."""
    chip = add_part(draft, part, net.name)
    _join_ends(draft, chip, net, closed)
    add_resistor(draft, net, LOW if closed is HIGH else HIGH, ohms, f"{net.name}.pull")


def add_source(draft: Draft, part: str, net: Net, **parameters: int) -> DraftChip:
    """A part with one output: clocks, oscillators, resets."""
    chip = add_part(draft, part, net.name, **parameters)
    connect(draft, chip, {only_pin(chip.part, Direction.OUTPUT): net})
    return chip


def add_element(draft: Draft, part: str, trigger: Net, result: Net, **parameters: int) -> None:
    """A timing element from one net to another."""
    chip = add_source(draft, part, result, **parameters)
    connect(draft, chip, {only_pin(chip.part, Direction.INPUT): trigger})


def selected_clock(draft: Draft, crystal: Net, hand: Net, by_hand: Net, out: Net) -> None:
    """The hand clock where ``by_hand`` is high, else the crystal: one package of four NAND gates."""

    def nand(a: Net, b: Net, result: Net | None = None) -> Net:
        return add_gate(draft, "nand", (a, b), draft.family, result)

    nand(nand(crystal, nand(by_hand, by_hand)), nand(hand, by_hand), out)


def note_clock(draft: Draft, net: Net, period: int) -> None:
    """The first crystal clock is the main clock."""
    draft.periods[net.index] = period
    if draft.clock == NO_NET:
        draft.clock = net.index
