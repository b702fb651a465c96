"""Devices that hang on a machine's nets, as machine.py states them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from latchwork.design.draft import Draft
from latchwork.design.mistakes import kind_of, mistake
from latchwork.design.place import here
from latchwork.design.statements import Stated, claim
from latchwork.design.values import name_of, net_of, nets_of, number_of
from latchwork.model import AttachedDevice

FASTEST = 10_000_000


def add_serial_port(draft: Draft, stated: Stated, name: object, pins: Mapping[str, object], rate: object) -> None:
    """``pins``: D, eight nets, and A0, CS_n, RD_n, WR_n, IRQ_n, of which None is left out."""
    given = _claimed(stated, name)
    data = tuple(net.index for net in nets_of(draft, pins["D"], f'the data of "{given}"'))
    if len(data) != 8:
        raise mistake("M022", f'the serial port "{given}" has eight data nets, these are {len(data)}')
    single = {pin: value for pin, value in pins.items() if pin != "D" and value is not None}
    rows: list[tuple[str, tuple[int, ...]]] = [("D", data)]
    rows += [(pin, (net_of(draft, value, f'{pin} of "{given}"').index,)) for pin, value in single.items()]
    bits = number_of(rate, f'the rate of "{given}"', 1, FASTEST)
    stated.devices.append(AttachedDevice("serial port", given, tuple(rows), (("rate", bits),), here()))


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
