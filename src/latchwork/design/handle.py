"""What ``m.chip`` gives: the chip, whose attributes are the nets and buses on its pins."""

from __future__ import annotations

from typing import Any

from latchwork.design.connect import pins_of
from latchwork.design.draft import Draft, DraftChip
from latchwork.design.mistakes import mistake
from latchwork.design.signals import Bus, Net
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Direction

_SHOWING = (Direction.OUTPUT, Direction.BOTH, Direction.PASSIVE)


class Handle:
    """``handle.Q`` is the net or bus on a port; an output that nothing is joined to gets a net of its own."""

    __slots__ = ("_chip", "_draft")

    def __init__(self, draft: Draft, chip: DraftChip) -> None:
        self._draft = draft
        self._chip = chip

    # Any: a port is a net or a bus, which only the part knows
    def __getattr__(self, port: str) -> Any:
        if port.startswith("__"):
            raise AttributeError(port)
        return self[port]

    def __getitem__(self, port: str) -> Any:
        pins = pins_of(self._chip.part, port)
        nets = self._nets(port, pins)
        return nets[0] if len(pins) == 1 else Bus(self._draft, nets, self._name_of(nets))

    @property
    def reference(self) -> str:
        """Its place on the drawings, such as U7."""
        return self._chip.reference

    @property
    def label(self) -> str:
        """What it is there for, such as "accumulator.hold"."""
        return self._chip.label

    @property
    def described(self) -> str:
        return f"the chip {self._chip.described}"

    def __repr__(self) -> str:
        return f"<{self._chip.described} {self._chip.label}>"

    def _nets(self, port: str, pins: tuple[int, ...]) -> tuple[Net, ...]:
        missing = [pin for pin in pins if self._chip.pins[pin] == NO_NET]
        for pin in missing:
            self._refuse(pin)
        if len(missing) == len(pins) > 1:
            bus = self._draft.add_bus(f"{self._chip.label}.{port}", len(pins), declared=False)
            for pin, net in zip(pins, bus, strict=True):
                self._chip.pins[pin] = net.index
        else:
            for pin in missing:
                name = f"{self._chip.label}.{self._chip.part.pins[pin].name}"
                self._chip.pins[pin] = self._draft.add_net(name, declared=False).index
        return tuple(Net(self._draft, self._chip.pins[pin]) for pin in pins)

    def _refuse(self, pin: int) -> None:
        this = self._chip.part.pins[pin]
        if pin in self._chip.left_open:
            raise mistake("M018", f"{self._chip.described} {this.name} is left open, it has no net")
        if this.direction not in _SHOWING:
            hint = "join it where the chip is written"
            raise mistake("M018", f"{self._chip.described} {this.name} is an input that has no net yet", help=hint)

    def _name_of(self, nets: tuple[Net, ...]) -> str:
        indices = tuple(net.index for net in nets)
        return next((bus.name for bus in self._draft.buses if bus.nets == indices), "")


def chip_of(handle: Handle) -> DraftChip:
    """The chip behind a handle."""
    return handle._chip


def draft_of(handle: Handle) -> Draft:
    return handle._draft
