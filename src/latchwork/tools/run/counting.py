"""Counting instructions: a machine begins one when it looks up the first step of some block in its control store."""

from __future__ import annotations

from latchwork.engines.protocol import Simulation
from latchwork.model import ControlProgram, Model


class InstructionCounter:
    """Looks at the address of the control store once a clock. The first step may last more clocks than one."""

    def __init__(self, model: Model, simulation: Simulation) -> None:
        self.count = 0
        self.at_start = False
        self._simulation = simulation
        self._nets = model.control.address_nets if model.control else ()
        self._starts = first_addresses(model.control) if model.control else frozenset()

    def sample(self) -> bool:
        """Look after a clock; True where an instruction begins."""
        address = self._simulation.read(self._nets)
        before, self.at_start = self.at_start, address in self._starts
        begins = self.at_start and not before
        self.count += begins
        return begins


def first_addresses(control: ControlProgram) -> frozenset[int]:
    """Addresses of the control store that hold the first step of an instruction, or of what unused opcodes do."""
    rows = (row for row in control.rows if row.step == 0 and not row.block.startswith("interrupt"))
    return frozenset(address for row in rows for address in row.addresses)
