"""Instructions and microsteps: which row of the microprogram is at work, and where an instruction begins.

A machine with a control register looks up the word of the next step while it works at the present one. So the row at
work is the one whose address stood at the store before the last clock; without such a register, the one whose address
stands there now. An instruction begins with the clock that puts the first step of some block to work.
"""

from __future__ import annotations

from functools import cached_property

from latchwork.engines.compiled.watching import Count
from latchwork.engines.protocol import Simulation
from latchwork.model import ControlProgram, Model, Row


class InstructionCounter:
    """Looks at the address of the control store once a clock. The first step may last more clocks than one."""

    def __init__(self, model: Model, simulation: Simulation) -> None:
        self.count = 0
        self.at_start = False
        self.delay = delay_of(model)
        self._simulation = simulation
        self._control = model.control
        self._nets = model.control.address_nets if model.control else ()
        self._starts = first_addresses(model.control) if model.control else frozenset()
        self._looked_up: int | None = None
        self._looking_up = self._address()

    def sample(self) -> bool:
        """Look after a clock; True where an instruction begins."""
        self._looked_up, self._looking_up = self._looking_up, self._address()
        before, self.at_start = self.at_start, self.address in self._starts
        begins = self.at_start and not before
        self.count += begins
        return begins

    def _address(self) -> int | None:
        return self._simulation.read(self._nets) if self._nets else None

    @property
    def address(self) -> int | None:
        """The address in the control store of the step at work; None where it is not known."""
        return self._looked_up if self.delay else self._address()

    @cached_property
    def _rows(self) -> dict[int, Row]:
        rows = self._control.rows if self._control else ()
        return {address: row for row in rows for address in row.addresses}

    @property
    def row(self) -> Row | None:
        """The step at work, as the microprogram has it."""
        address = self.address
        return None if address is None else self._rows.get(address)

    @property
    def counted(self) -> Count | None:
        """All that goes on from clock to clock; None where an address is not known, or nothing is counted."""
        if not self._nets:
            return Count(0, False, 0, 0)
        if self._looked_up is None or self._looking_up is None:
            return None
        return Count(self.count, self.at_start, self._looked_up, self._looking_up)

    @counted.setter
    def counted(self, count: Count) -> None:
        """After clocks that were counted by someone else."""
        if self._nets:
            self.count, self.at_start, self._looked_up, self._looking_up, _ = count

    def save(self) -> tuple[object, ...]:
        return self.count, self.at_start, self._looked_up, self._looking_up

    def restore(self, saved: tuple[object, ...]) -> None:
        self.count, self.at_start, self._looked_up, self._looking_up = saved  # type: ignore[assignment]


def delay_of(model: Model) -> int:
    """Clocks from the store showing a word to its lines being at work."""
    binding = model.statements.microprogram
    if binding is None or model.control is None:
        return 0
    from latchwork.analysis.sequencing import sequencing_of

    return sequencing_of(model.netlist, binding).delay


def first_addresses(control: ControlProgram) -> frozenset[int]:
    """Addresses of the control store that hold the first step of an instruction, or of what unused opcodes do."""
    rows = (row for row in control.rows if row.step == 0 and not row.block.startswith("interrupt"))
    return frozenset(address for row in rows for address in row.addresses)
