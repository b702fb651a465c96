"""Memories of a running machine by the name of their address space or the reference of their chip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from latchwork.engines.protocol import Simulation
from latchwork.model import Model
from latchwork.problems import LatchworkError, Problem


class ChipMemory(Sequence[int]):
    """The words of a chip by its own address pins, as they are now; an unknown one is -1."""

    def __init__(self, simulation: Simulation, chip: int) -> None:
        self._simulation = simulation
        self._chip = chip

    def _words(self) -> Sequence[int]:
        return self._simulation.memory(self._chip)

    def __len__(self) -> int:
        return len(self._words())

    def __getitem__(self, address):  # type: ignore[no-untyped-def]
        return self._words()[address]

    def __setitem__(self, address: int, value: int) -> None:
        self._simulation.write_memory(self._chip, bytes([value]), address)


class Memories:
    """``machine.memory["U12"]``; ``machine.memory["ram"]`` of an address space, in the order of its addresses."""

    def __init__(self, model: Model, simulation: Simulation) -> None:
        self._model = model
        self._simulation = simulation

    def __iter__(self) -> Iterator[str]:
        yield from (space.name for space in self._model.statements.spaces)
        netlist = self._model.netlist
        yield from (
            chip.reference for index, chip in enumerate(netlist.chips) if netlist.part_of(index).behaviour.memories
        )

    def __getitem__(self, name: str) -> Sequence[int]:
        netlist = self._model.netlist
        chip = netlist.chip_named.get(name)
        if chip is not None and netlist.part_of(chip).behaviour.memories:
            return ChipMemory(self._simulation, chip)
        for space in self._model.statements.spaces:
            if space.name == name:
                from latchwork.tools.run.space_memory import SpaceMemory

                return SpaceMemory(self._model, self._simulation, space)
        raise LatchworkError(Problem("R106", f'the machine has no memory "{name}"', help=f"it has {', '.join(self)}"))
