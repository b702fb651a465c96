"""When the power-on reset is over, and what of the time before it is worth telling."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

from latchwork.engines.protocol import Incident, Simulation
from latchwork.netlist import Netlist
from latchwork.parts import TimerKind


class Resets:
    """Watches the reset supervisors of a machine. Power-up contents that are shown while one of them still holds the
    machine are noise; fights and the like are trouble also then."""

    def __init__(self, netlist: Netlist, simulation: Simulation) -> None:
        self._simulation = simulation
        self._waiting = [
            (chip, timer.name)
            for chip in range(len(netlist.chips))
            for timer in netlist.part_of(chip).behaviour.timers
            if timer.kind is TimerKind.STARTUP
        ]
        self._before: tuple[Incident, ...] = ()

    def look(self) -> None:
        """To be called after each tick."""
        if self._waiting and all(self._simulation.state(chip, timer) == 1 for chip, timer in self._waiting):
            self._waiting = []
            self._before = tuple(item for item in self._simulation.incidents if item.kind != "power-up read")
            self._simulation.forget_incidents()

    @property
    def over(self) -> bool:
        """Whether no reset is waited for any more."""
        return not self._waiting

    def save(self) -> tuple[object, ...]:
        return tuple(self._waiting), self._before

    def restore(self, saved: tuple[object, ...]) -> None:
        waiting, self._before = cast("tuple[tuple[tuple[int, str], ...], tuple[Incident, ...]]", saved)
        self._waiting = list(waiting)

    @property
    def incidents(self) -> Sequence[Incident]:
        """All that counts."""
        return (*self._before, *self._simulation.incidents)
