"""Edits from netlist to netlist: what a fault on the bench makes of a machine.

Each gives a new netlist that satisfies the verifier; indices of chips and nets stay what they were. A net that an
edit joins to another keeps its index and loses its pins: buses, lines, assumptions and the clock then speak of the
other, while its bare index carries nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from latchwork.netlist.netlist import NO_NET, Assumption, Chip, ChipId, NetId, Netlist, PinRef
from latchwork.parts import Direction, Part


def stuck(netlist: Netlist, at: NetId | PinRef, level: int) -> Netlist:
    """A short to a rail. A stuck input pin reads ``level`` while its net goes on; any other pin takes its net along,
    which then stands at ``level`` whatever drives it."""
    rail = netlist.high if level else netlist.low
    if not isinstance(at, PinRef):
        return bridged(netlist, rail, at)
    if netlist.part_of(at.chip).pins[at.pin].direction is Direction.INPUT:
        return _with_pin(netlist, at, rail)
    return bridged(netlist, rail, _net_at(netlist, at))


def opened(netlist: Netlist, at: PinRef) -> Netlist:
    """A wire that has come off: the pin is joined to nothing. ValueError where it was open before."""
    _net_at(netlist, at)
    return _with_pin(netlist, at, NO_NET)


def swapped(netlist: Netlist, a: PinRef, b: PinRef) -> Netlist:
    """Two wires in each other's holes."""
    net_a, net_b = netlist.chips[a.chip].pins[a.pin], netlist.chips[b.chip].pins[b.pin]
    return _with_pin(_with_pin(netlist, a, net_b), b, net_a)


def bridged(netlist: Netlist, a: NetId, b: NetId) -> Netlist:
    """Two nets that touch: all that was on either is on one, a rail if one of them is. ValueError for both rails."""
    rails = (netlist.high, netlist.low)
    if a in rails and b in rails and a != b:
        raise ValueError("both rails together are a short circuit, not a machine")
    kept, joined = (b, a) if b in rails else (a, b)
    return netlist if a == b else _joined(netlist, kept, joined)


def replaced(netlist: Netlist, chip: ChipId, part: Part) -> Netlist:
    """Another part in a chip's socket, pin number by pin number. ValueError where the pin numbers differ."""
    old = netlist.part_of(chip)
    nets = {pin.number: net for pin, net in zip(old.pins, netlist.chips[chip].pins, strict=True)}
    if set(nets) != {pin.number for pin in part.pins}:
        raise ValueError(f"{part.name} has other pin numbers than {old.name}")
    parts = netlist.parts if part in netlist.parts else (*netlist.parts, part)
    units = [unit.name for unit in part.units]
    changed = replace(
        netlist.chips[chip],
        part=parts.index(part),
        pins=tuple(nets[pin.number] for pin in part.pins),
        left_open=(),
        spare_units=tuple(name for name in netlist.chips[chip].spare_units if name in units),
    )
    return replace(netlist, parts=parts, chips=_with_chip(netlist, chip, changed))


def _net_at(netlist: Netlist, at: PinRef) -> NetId:
    net = netlist.chips[at.chip].pins[at.pin]
    if net == NO_NET:
        raise ValueError(f"pin {at.pin} of {netlist.chips[at.chip].reference} is open")
    return net


def _with_pin(netlist: Netlist, at: PinRef, net: NetId) -> Netlist:
    chip = netlist.chips[at.chip]
    pins = (*chip.pins[: at.pin], net, *chip.pins[at.pin + 1 :])
    left_open = tuple(pin for pin in chip.left_open if pin != at.pin)
    return replace(netlist, chips=_with_chip(netlist, at.chip, replace(chip, pins=pins, left_open=left_open)))


def _with_chip(netlist: Netlist, index: ChipId, chip: Chip) -> tuple[Chip, ...]:
    return (*netlist.chips[:index], chip, *netlist.chips[index + 1 :])


def _joined(netlist: Netlist, kept: NetId, joined: NetId) -> Netlist:
    """The netlist with ``kept`` in every place of ``joined``."""

    def moved(nets: tuple[NetId, ...]) -> tuple[NetId, ...]:
        return tuple(kept if net == joined else net for net in nets)

    return replace(
        netlist,
        chips=tuple(replace(chip, pins=moved(chip.pins)) for chip in netlist.chips),
        buses=tuple(replace(bus, nets=moved(bus.nets)) for bus in netlist.buses),
        lines=tuple(
            replace(line, net=moved((line.net,))[0], phase=tuple((moved((net,))[0], at) for net, at in line.phase))
            for line in netlist.lines
        ),
        assumptions=_assumed_once(
            replace(assumption, net=moved((assumption.net,))[0]) for assumption in netlist.assumptions
        ),
        clock=moved((netlist.clock,))[0],
    )


def _assumed_once(assumptions: Iterable[Assumption]) -> tuple[Assumption, ...]:
    """Where two assumptions have come to speak of one net the first stays."""
    first: dict[NetId, Assumption] = {}
    for assumption in assumptions:
        first.setdefault(assumption.net, assumption)
    return tuple(first.values())
