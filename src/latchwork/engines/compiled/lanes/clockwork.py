"""What happens by time, the same in all lanes: oscillators turn, start-up times pass."""

from __future__ import annotations

from typing import NamedTuple

from latchwork.engines.oracle.events import Queue
from latchwork.engines.oracle.timers import Oscillators, hand_slots, times_of
from latchwork.engines.oracle.wiring import wire
from latchwork.netlist import ChipId, Netlist


class Turn(NamedTuple):
    """A timer of a chip goes to a level."""

    chip: ChipId
    name: str
    level: int


class Tick(NamedTuple):
    """What happens before a settling: ``turns``; where a hand did it, ``hand`` has the chip and the level."""

    turns: tuple[Turn, ...] = ()
    hand: tuple[ChipId, int] | None = None


class Clockwork:
    """The events of one tick after the other. Raises LatchworkError (R201) where a chip does not state its time."""

    def __init__(self, netlist: Netlist) -> None:
        wiring = wire(netlist, known=False)
        self._slots = wiring.slots
        self._hands = hand_slots(wiring)
        self._oscillators = Oscillators(wiring, times_of(netlist))
        self._queue = Queue()
        self._oscillators.start(self._queue)

    def by_hand(self, chip: ChipId, level: int) -> Tick:
        """A hand at a source. KeyError where the chip is none."""
        slot = self._slots[self._hands[chip]]
        return Tick((Turn(chip, slot.name, level),), (chip, level))

    def next(self) -> Tick | None:
        """What happens in the next tick; None where nothing ever will."""
        if not self._queue.heap:
            return None
        time, events = self._queue.pop()
        for _, event in events:
            if event.purpose == "turn":
                self._oscillators.turn(self._queue, time, event)
        slots = [(self._slots[event.slot], event.value[0]) for _, event in events]
        return Tick(tuple(Turn(slot.chip, slot.name, level) for slot, level in slots))
