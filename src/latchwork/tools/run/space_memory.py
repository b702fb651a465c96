"""A memory in the order of its address space, whatever way its address and data pins are wired."""

from __future__ import annotations

from collections.abc import Sequence

from latchwork.engines.protocol import Simulation
from latchwork.model import Model, Space
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.queries import memory_pins
from latchwork.problems import Label, LatchworkError, Problem


class SpaceMemory(Sequence[int]):
    """The words of an address space with one chip, as they are now; an unknown one is -1.

    Raises LatchworkError where the chip's pins are not on the nets of the space (or on a rail).
    """

    def __init__(self, model: Model, simulation: Simulation, space: Space) -> None:
        self._simulation = simulation
        self._model = model
        self._space = space
        self._chip = self._only_chip()
        pins = memory_pins(model.netlist.part_of(self._chip))
        places = model.netlist.chips[self._chip].pins
        self._address = [places[pin] for pin in pins.address] if pins else []
        self._data = [places[pin] for pin in pins.data] if pins else []
        rails = {model.netlist.high, model.netlist.low}
        if not set(self._address) <= {*space.address, *rails} or not set(self._data) >= set(space.data):
            raise self._unreadable("its pins are not on the nets of the space")

    def _only_chip(self) -> ChipId:
        if len(self._space.chips) != 1:
            raise self._unreadable(f"it has {len(self._space.chips)} chips")
        return self._space.chips[0]

    def _unreadable(self, why: str) -> LatchworkError:
        message = f'the memory "{self._space.name}" has no order of its own: {why}'
        hint = "read the chips by their references"
        return LatchworkError(Problem("R106", message, (Label(self._space.position),), hint))

    def __len__(self) -> int:
        return 1 << sum(net in self._address for net in self._space.address)

    def __getitem__(self, address):  # type: ignore[no-untyped-def]
        words = self._simulation.memory(self._chip)
        if isinstance(address, slice):
            return [self._word(words, each) for each in range(*address.indices(len(self)))]
        return self._word(words, range(len(self))[address])

    def _word(self, words: Sequence[int], address: int) -> int:
        word = words[self._inside(address)]
        return word if word < 0 else _gathered(word, self._data, self._space.data)

    def _inside(self, address: int) -> int:
        """The chip's own address for one of the space."""
        levels = {net: address >> bit & 1 for bit, net in enumerate(self._space.address)}
        levels[self._model.netlist.high] = 1
        return sum(levels.get(net, 0) << bit for bit, net in enumerate(self._address))

    def __setitem__(self, address: int, value: int) -> None:
        inside = self._inside(range(len(self))[address])
        self._simulation.write_memory(self._chip, bytes([_gathered(value, self._space.data, self._data)]), inside)


def _gathered(word: int, there: Sequence[NetId], here: Sequence[NetId]) -> int:
    """The bits of a word on the nets ``there``, put in the order of the nets ``here``."""
    levels = {net: word >> bit & 1 for bit, net in enumerate(there)}
    return sum(levels.get(net, 0) << bit for bit, net in enumerate(here))
