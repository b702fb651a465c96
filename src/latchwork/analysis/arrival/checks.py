"""What each chip asks of its inputs, as limits on the clock.

A *demand* says: what arrives at ``pin`` after edge ``run`` of the main clock has to be there ``needed`` before an
edge at ``reference``. That edge comes ``halves`` (share of the period) after edge ``run`` of the main clock, and the
way of the clock to ``reference``. So the period is at least (arrival + needed - way of the clock) / share.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from latchwork.analysis.arrival.activity import Activity
from latchwork.analysis.arrival.graph import Node, node
from latchwork.analysis.arrival.senses import FALL, RISE, pins_of, signs
from latchwork.analysis.arrival.times import AT_BEGINNING, Time, address_time, data_time, limit_rows, limit_time
from latchwork.logic import Expression
from latchwork.netlist import ChipId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Latch, Memory, Part, Register, Write

NAMES = ("fall", "rise")


@dataclass(frozen=True)
class Asked:
    """What a chip asks of ``pin`` around an edge of pin ``at``, whose node is ``reference``. ``kind``: setup, hold,
    recovery, write address, write data, gate. ``mask``: lanes in which it is asked. Pins are indices."""

    kind: str
    chip: ChipId
    pin: int
    at: int
    reference: Node
    time: Time
    mask: int


class Demand(Asked):
    """``pin`` must stand for ``time`` before the edge."""


class Hold(Asked):
    """``pin`` must not move until ``time`` after the edge."""


@dataclass(frozen=True)
class Width:
    """The pin must stay at ``level`` (1 high) for ``time``."""

    kind: str
    chip: ChipId
    pin: int
    level: int
    time: Time


class Demands:
    """The demands of all chips, in the order of the chips."""

    def __init__(self, netlist: Netlist, activity: Activity) -> None:
        self.netlist, self.activity = netlist, activity
        self.demands: list[Demand] = []
        self.holds: list[Hold] = []
        self.widths: list[Width] = []
        for chip in range(len(netlist.chips)):
            self._of_chip(chip, netlist.part_of(chip))

    def _of_chip(self, chip: ChipId, part: Part) -> None:
        for register in part.behaviour.registers:
            self._of_register(chip, part, register)
        for latch in part.behaviour.latches:
            self._of_latch(chip, part, latch)
        for memory in part.behaviour.memories:
            self._of_memory(chip, part, memory)
        self._of_rows(chip, part)

    # ---- registers and latches

    def _of_register(self, chip: ChipId, part: Part, register: Register) -> None:
        for update in register.updates:
            clocks = self._edges(part, update.clock)
            for pin, mask in self._support(chip, part, update.data):
                for at, edge in clocks:
                    if at != pin:
                        self._pair(chip, pin, at, edge, mask)

    def _of_latch(self, chip: ChipId, part: Part, latch: Latch) -> None:
        for pin, mask in self._support(chip, part, latch.data):
            for at, edge in self._edges(part, latch.enable):
                if at != pin:
                    self._pair(chip, pin, at, 1 - edge, mask)

    def _pair(self, chip: ChipId, pin: int, at: int, edge: int, mask: int) -> None:
        part = self.netlist.part_of(chip)
        name = NAMES[edge]
        reference = self._node(chip, at, edge)
        if reference is None or self._node(chip, pin, RISE) is None or not mask:
            return
        setup, hold = (limit_time(part, quantity, pin, at, name)[0] for quantity in ("setup", "hold"))
        self.demands.append(Demand("setup", chip, pin, at, reference, setup, mask))
        self.holds.append(Hold("hold", chip, pin, at, reference, hold, mask))

    # ---- memories that are written by a level or at a clock

    def _of_memory(self, chip: ChipId, part: Part, memory: Memory) -> None:
        for write in memory.writes:
            for at, edge in self._edges(part, write.strobe):
                if self._node(chip, at, edge) is not None and not self._still(chip, at):
                    self._of_write(chip, part, write, (at, edge))

    def _of_write(self, chip: ChipId, part: Part, write: Write, strobe: tuple[int, int]) -> None:
        """``strobe``: pin, and the edge with which writing begins."""
        at, begin = strobe
        end = begin if write.clocked else 1 - begin
        mask = self.activity.lanes.bit(chip, write.strobe, 0).one
        for pin, _ in self._support(chip, part, write.data):
            self._before_write(chip, (pin, at, end), "write data", data_time(part, pin, at, NAMES[end]), mask)
            self._held(chip, pin, (at, end), mask)
        for pin, _ in self._support(chip, part, write.address):
            time = address_time(part, pin, at, NAMES[begin]) or AT_BEGINNING
            self._before_write(chip, (pin, at, begin), "write address", time, mask)
            if not write.clocked:
                self._address_until(chip, part, (pin, at, begin), mask)
        if not write.clocked:
            self._width(chip, at, begin)

    def _address_until(self, chip: ChipId, part: Part, pins: tuple[int, int, int], mask: int) -> None:
        """The address before writing ends, and held after it; held after the beginning where a sheet says that."""
        pin, at, begin = pins
        time = address_time(part, pin, at, NAMES[1 - begin])
        if time is not None:
            self._before_write(chip, (pin, at, 1 - begin), "write address", time, mask)
        self._held(chip, pin, (at, 1 - begin), mask)
        if any(row.edge == NAMES[begin] for row in limit_rows(part, "hold", pin, at)):
            self._held(chip, pin, (at, begin), mask)

    def _before_write(self, chip: ChipId, pins: tuple[int, int, int], kind: str, time: Time, mask: int) -> None:
        """``pins``: the one that must stand, the strobe, and the edge of it that counts."""
        pin, at, edge = pins
        reference = self._node(chip, at, edge)
        if self._node(chip, pin, RISE) is not None and reference is not None:
            self.demands.append(Demand(kind, chip, pin, at, reference, time, mask))

    def _held(self, chip: ChipId, pin: int, at: tuple[int, int], mask: int) -> None:
        part, name = self.netlist.part_of(chip), NAMES[at[1]]
        reference = self._node(chip, *at)
        rows = [row for row in limit_rows(part, "hold", pin, at[0]) if row.edge in ("", name)]
        if reference is None or self._node(chip, pin, RISE) is None:
            return
        time = limit_time(part, "hold", pin, at[0], name)[0] if rows else Time(0, 0, "no figure: 0", "assumed")
        hold = Hold("hold", chip, pin, at[0], reference, time, mask)
        if hold not in self.holds:
            self.holds.append(hold)

    def _width(self, chip: ChipId, at: int, level: int) -> None:
        time = limit_time(self.netlist.part_of(chip), "write width", at)[0]
        width = Width("write width", chip, at, level, time)
        if width not in self.widths:
            self.widths.append(width)

    # ---- rows of the sheet that say it all

    def _of_rows(self, chip: ChipId, part: Part) -> None:
        """Pulse widths and recovery times, where the sheet has them."""
        for row in part.figures:
            for pin in part.ports.get(row.start, ()):
                if row.quantity == "pulse width" and self._node(chip, pin, RISE) is not None:
                    self._pulse(chip, part, pin)
                elif row.quantity == "recovery":
                    self._recovery(chip, part, pin, part.ports.get(row.end, ()))

    def _pulse(self, chip: ChipId, part: Part, pin: int) -> None:
        time = limit_time(part, "pulse width", pin)[0]
        clocks = {
            at for state in part.behaviour.registers for u in state.updates for at, _ in self._edges(part, u.clock)
        }
        levels = (RISE, FALL) if pin in clocks else (FALL if part.pins[pin].name.endswith("_n") else RISE,)
        for level in levels:
            width = Width("pulse width", chip, pin, level, time)
            if width not in self.widths:
                self.widths.append(width)

    def _recovery(self, chip: ChipId, part: Part, pin: int, ends: tuple[int, ...]) -> None:
        time = limit_time(part, "recovery", pin)[0]
        for at in ends:
            reference = self._node(chip, at, RISE)
            if reference is not None and self._node(chip, pin, RISE) is not None:
                self.demands.append(Demand("recovery", chip, pin, at, reference, time, self.activity.all))

    # ---- pins

    def is_clock(self, chip: ChipId, pin: int, register: Register) -> bool:
        """Whether an edge of the pin makes the register take its data."""
        part = self.netlist.part_of(chip)
        return any(pin == at for update in register.updates for at, _ in self._edges(part, update.clock))

    def _edges(self, part: Part, clock: Expression) -> list[tuple[int, int]]:
        """(pin, edge) with which ``clock`` may rise."""
        found = []
        for place, both in sorted(signs(clock).items()):
            for pin in part.ports.get(place.name, ())[place.bit : place.bit + 1]:
                found += [(pin, RISE if sign > 0 else FALL) for sign in sorted(both)]
        return found

    def _support(self, chip: ChipId, part: Part, node_: Expression) -> Iterator[tuple[int, int]]:
        """Pins that bits of an expression depend on, with the lanes in which that is so. A pin whose level is known
        moves all the same."""
        for pin in pins_of(part, node_):
            net = self.netlist.chips[chip].pins[pin]
            if net == NO_NET or self._still(chip, pin):
                continue
            mask = self.activity.known(net)
            for bit in range(node_.width):
                mask |= self.activity.depends(chip, pin, node_, bit)
            yield pin, mask

    def _still(self, chip: ChipId, pin: int) -> bool:
        return self.activity.is_still(self.netlist.chips[chip].pins[pin])

    def _node(self, chip: ChipId, pin: int, edge: int) -> Node | None:
        net = self.netlist.chips[chip].pins[pin]
        return None if net == NO_NET else node(net, edge)
