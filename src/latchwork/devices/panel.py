"""A panel of switches and lamps, joined to nets of the machine by a ribbon of wires.

What it does
    Each switch drives its net high or low (push-pull); each button pulls its net low while it is pressed (open drain).
    Lamps are looked at where they change. The person at the panel sets ``name=number``, and is told ``name=number``
    of every row of lamps that changed, once for each tick; ``?`` stands for a number that is not known.

Mistakes people make
    A button's net floats while the button is not pressed, unless the machine pulls it up.

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from latchwork.devices.protocol import Bench, Device, Output, Watch
from latchwork.netlist import NetId
from latchwork.parts import OutputKind

Rows = Mapping[str, Sequence[NetId]]
NONE: Rows = {}


class Panel(Device):
    """Rows of switches, buttons and lamps by name, each with its nets, lowest bit first. Switches start at 0."""

    kept = ("set_to", "seen")

    def __init__(self, name: str, *, switches: Rows = NONE, buttons: Rows = NONE, lamps: Rows = NONE) -> None:
        self.switches = {row: tuple(nets) for row, nets in switches.items()}
        self.buttons = {row: tuple(nets) for row, nets in buttons.items()}
        self.lamps = {row: tuple(nets) for row, nets in lamps.items()}
        outputs = [Output(net) for nets in self.switches.values() for net in nets]
        outputs += [Output(net, OutputKind.OPEN_COLLECTOR) for nets in self.buttons.values() for net in nets]
        super().__init__(name, [Watch(net) for nets in self.lamps.values() for net in nets], outputs)

    def start(self, bench: Bench) -> None:
        self.set_to: tuple[tuple[str, int], ...] = ()
        self.seen = tuple(bench.read(nets) for nets in self.lamps.values())
        for row in self.switches:
            self._set(bench, row, 0)

    def changed(self, bench: Bench, nets: Sequence[NetId]) -> None:
        now = tuple(bench.read(row) for row in self.lamps.values())
        for name, before, value in zip(self.lamps, self.seen, now, strict=True):
            if before != value:
                bench.emit(f"{name}={'?' if value is None else value}\n".encode())
        self.seen = now

    def received(self, bench: Bench, data: bytes) -> None:
        """Settings, ``name=number``, one or more words; one that is none is answered, and changes nothing."""
        for word in data.decode("utf-8", "replace").split():
            row, _, number = word.partition("=")
            try:
                self._set(bench, row, int(number, 0))
            except ValueError as error:
                bench.emit(f"{word} is not taken: {error}\n".encode())

    def _set(self, bench: Bench, row: str, value: int) -> None:
        if row in self.switches:
            bench.drive(self.switches[row], value)
        elif row in self.buttons:
            nets = self.buttons[row]
            if not 0 <= value < 1 << len(nets):
                raise ValueError(f"{value} does not fit {len(nets)} buttons")
            for bit, net in enumerate(nets):
                bench.drive((net,), 0 if value >> bit & 1 else None)
        else:
            raise ValueError(f'the panel has no switch or button "{row}"')
        self.set_to = (*((name, old) for name, old in self.set_to if name != row), (row, value))
