"""The devices that a machine's description states."""

from __future__ import annotations

from collections.abc import Sequence

from latchwork.devices.panel import Panel
from latchwork.devices.protocol import Device
from latchwork.devices.serial_port import SerialLine
from latchwork.model import AttachedDevice
from latchwork.netlist import NetId

SERIAL_PORT, PANEL = "serial port", "panel"


def made(stated: AttachedDevice) -> Device:
    """A new device of the kind, with the nets and settings that are stated. ValueError where there is no such kind."""
    pins, settings = dict(stated.pins), dict(stated.settings)
    if stated.kind == SERIAL_PORT:
        return SerialLine(stated.name, pins, settings["rate"])
    if stated.kind == PANEL:
        rows = {kind: _rows(pins, kind) for kind in ("switches", "buttons", "lamps")}
        return Panel(stated.name, switches=rows["switches"], buttons=rows["buttons"], lamps=rows["lamps"])
    raise ValueError(f'there is no device of the kind "{stated.kind}"')


def _rows(pins: dict[str, tuple[NetId, ...]], kind: str) -> dict[str, Sequence[NetId]]:
    start = f"{kind} "
    return {name.removeprefix(start): nets for name, nets in pins.items() if name.startswith(start)}
