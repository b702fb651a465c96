"""The memories of an address space in the order of its addresses, whatever way their pins are wired."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from operator import index

from latchwork.analysis.spaces import Region, map_space
from latchwork.engines.protocol import Simulation
from latchwork.model import Model, Space
from latchwork.netlist import ChipId
from latchwork.problems import Label, LatchworkError, Problem


class SpaceMemory(Sequence[int]):
    """The words of an address space as they are now; -1 where one is unknown, or where no memory answers.

    A word may lie in several chips side by side. Raises LatchworkError where the wiring leaves open where the chips
    answer, and where something is written to an address without memory.
    """

    def __init__(self, model: Model, simulation: Simulation, space: Space) -> None:
        self._simulation = simulation
        self._space = space
        found = map_space(model.netlist, space)
        if found.problems:
            raise self._unreadable(found.problems[0])
        self._regions = found.regions
        self._whole = (1 << len(space.data)) - 1

    def _unreadable(self, why: Problem) -> LatchworkError:
        message = f'the memory "{self._space.name}" has no order of its own: {why.message}'
        hint = "read the chips by their references" + (f", or: {why.help}" if why.help else "")
        return LatchworkError(Problem("R106", message, (Label(self._space.position),), hint))

    def __len__(self) -> int:
        return 1 << len(self._space.address)

    def __getitem__(self, address):  # type: ignore[no-untyped-def]
        if isinstance(address, slice):
            wanted = range(*address.indices(len(self)))
            cells = self._cells(self._regions)
            return [self._word(cells, each) for each in wanted]
        at = range(len(self))[address]
        word = covered = 0
        for region in self._at(at):
            cell = self._simulation.cell(region.chip, region.cells[at - region.start])
            if cell < 0:
                return -1
            word |= region.shown(cell)
            covered |= region.bits
        return word if covered == self._whole else -1

    def _at(self, address: int) -> list[Region]:
        return [region for region in self._regions if region.start <= address < region.end]

    def _cells(self, regions: Sequence[Region]) -> dict[ChipId, Sequence[int]]:
        return {chip: self._simulation.memory(chip) for chip in {region.chip for region in regions}}

    def _word(self, cells: Mapping[ChipId, Sequence[int]], address: int) -> int:
        word = covered = 0
        for region in self._at(address):
            cell = cells[region.chip][region.cells[address - region.start]]
            if cell < 0:
                return -1
            word |= region.shown(cell)
            covered |= region.bits
        return word if covered == self._whole else -1

    def __setitem__(self, address: int, value: int) -> None:
        at, word = range(len(self))[address], index(value)
        if not 0 <= word <= self._whole:
            message = f'{word} does not fit "{self._space.name}", whose words take 0 to {self._whole}'
            raise LatchworkError(Problem("R103", message))
        regions = self._at(at)
        if not regions:
            message = f'no memory answers at address {at} of "{self._space.name}"'
            answering = sorted({(region.start, region.end - 1) for region in self._regions})
            hint = f"its memories answer at {' and '.join(f'{first} to {last}' for first, last in answering)}"
            raise LatchworkError(Problem("R106", message, (Label(self._space.position),), hint))
        for region in regions:
            width = -(-len(region.data_map) // 8)
            stored = region.stored(word).to_bytes(width, "little")
            self._simulation.write_memory(region.chip, stored, region.cells[at - region.start])
