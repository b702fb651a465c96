"""Devices that hang on a machine's nets, as machine.py states them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from latchwork.design.draft import Draft
from latchwork.design.mistakes import kind_of, mistake
from latchwork.design.place import here
from latchwork.design.signals import Bus, Net
from latchwork.design.statements import Stated, claim
from latchwork.design.values import name_of, nets_of, number_of
from latchwork.devices.serial_port import LINE_PINS
from latchwork.model import AttachedDevice

FASTEST = 10_000_000


def add_serial_line(draft: Draft, stated: Stated, name: object, data: object, rate: object) -> dict[str, Bus | Net]:
    """New nets to the line side of a serial port, by its pins. ``data``: what it is joined to on the bus."""
    given = _claimed(stated, name)
    count = len(nets_of(draft, data, f'the data of "{given}"'))
    if count != 8:
        raise mistake("M022", f'the serial port "{given}" has eight data nets, these are {count}')
    bits = number_of(rate, f'the rate of "{given}"', 1, FASTEST)
    line: dict[str, Bus | Net] = {
        pin: draft.add_bus(f"{given}_{pin.lower()}", width, "")
        if width > 1
        else draft.add_net(f"{given}_{pin.lower()}")
        for pin, width in LINE_PINS.items()
    }
    rows = tuple((pin, tuple(net.index for net in nets_of(draft, nets, pin))) for pin, nets in line.items())
    stated.devices.append(AttachedDevice("serial port", given, rows, (("rate", bits),), here()))
    return line


def add_panel(draft: Draft, stated: Stated, name: object, **kinds: object) -> None:
    """``kinds``: switches, buttons and lamps, each nets by name."""
    given = _claimed(stated, name)
    rows = tuple(row for kind, nets in kinds.items() for row in _rows(draft, given, kind, nets))
    stated.devices.append(AttachedDevice("panel", given, rows, (), here()))


def _claimed(stated: Stated, name: object) -> str:
    given = name_of(name, "a device")
    claim(stated, f'the device "{given}"')
    return given


def _rows(draft: Draft, panel: str, kind: str, named: object) -> Iterator[tuple[str, tuple[int, ...]]]:
    if not isinstance(named, Mapping):
        raise mistake(
            "M007", f'the {kind} of the panel "{panel}" are a dictionary of names and nets, not {kind_of(named)}'
        )
    for name, nets in named.items():
        row = name_of(name, f"a row of {kind}")
        yield f"{kind} {row}", tuple(net.index for net in nets_of(draft, nets, f'the {kind} "{row}"'))
