"""What output ports showed, in order."""

from __future__ import annotations

from typing import cast

from latchwork.engines.protocol import Simulation, Value
from latchwork.model import Model, Port
from latchwork.netlist.netlist import NO_NET
from latchwork.tools.run.trails import Trail, listed


class History:
    """The values of one output port: one at each rising edge of its ``take``, or at each change without one."""

    def __init__(self, simulation: Simulation, port: Port) -> None:
        self._trail: Trail[int | None] | None = None
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
            self._trail = Trail(seen, self._trail)

    @property
    def values(self) -> list[int | None]:
        """All of them, first to last."""
        return listed(self._trail)

    def save(self) -> tuple[object, ...]:
        """This moment, to be handed to ``restore``."""
        return self._trail, self.now, self._take

    def restore(self, saved: tuple[object, ...]) -> None:
        """To a saved moment of the same run, earlier or later."""
        self._trail, self.now, self._take = cast("tuple[Trail[int | None] | None, int | None, Value | None]", saved)


def histories(model: Model, simulation: Simulation) -> dict[str, History]:
    """One history for each output port of the machine."""
    return {port.name: History(simulation, port) for port in model.statements.ports if port.direction == "out"}
