"""What output ports showed, in order."""

from __future__ import annotations

from typing import cast

from latchwork.engines.protocol import Simulation, Value
from latchwork.model import Model, Port
from latchwork.netlist.netlist import NO_NET


class History:
    """The values of one output port: one at each rising edge of its ``take``, or at each change without one."""

    def __init__(self, simulation: Simulation, port: Port) -> None:
        self.values: list[int | None] = []
        self.now: int | None = None
        self._simulation = simulation
        self._port = port
        self._take = self._taking()
        self.now = simulation.read(port.nets)

    def _taking(self) -> Value | None:
        return None if self._port.take == NO_NET else self._simulation.value(self._port.take)

    def sample(self) -> None:
        """Look at the port after a tick."""
        before, self._take = self._take, self._taking()
        seen = self._simulation.read(self._port.nets)
        changed, self.now = seen != self.now, seen
        taken = before is Value.LOW and self._take is Value.HIGH
        if taken or (changed and self._port.take == NO_NET):
            self.values.append(seen)

    def save(self) -> tuple[object, ...]:
        """Values are only ever added, so that their number says which there were."""
        return len(self.values), self.now, self._take

    def restore(self, saved: tuple[object, ...]) -> None:
        """Back to an earlier moment of the same run."""
        count, self.now, self._take = cast("tuple[int, int | None, Value | None]", saved)
        del self.values[count:]


def histories(model: Model, simulation: Simulation) -> dict[str, History]:
    """One history for each output port of the machine."""
    return {port.name: History(simulation, port) for port in model.statements.ports if port.direction == "out"}
