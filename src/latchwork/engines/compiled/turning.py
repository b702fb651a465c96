"""The main clock's place in the queue of events, when many of its turns go by at once."""

from __future__ import annotations

from latchwork.engines.oracle.events import Event
from latchwork.engines.oracle.known import ONE, ZERO
from latchwork.engines.oracle.machine import Machine
from latchwork.engines.oracle.timers import Oscillators
from latchwork.engines.oracle.wiring import Wiring
from latchwork.netlist import NetId

FOREVER = 1 << 62


def main_oscillator(wiring: Wiring, oscillators: Oscillators, clock: NetId) -> int | None:
    """The slot of the one oscillator that the main clock can follow through gates."""
    turning = oscillators.halves
    waiting, seen, found = [clock], set[int](), set[int]()
    while waiting:
        net = waiting.pop()
        for drive in wiring.drives:
            if net in drive.outputs and drive.first not in seen:
                seen.add(drive.first)
                found |= turning.keys() & set(drive.bound.slots)
                waiting += drive.bound.nets
    return found.pop() if len(found) == 1 else None


class Turning:
    """Of one oscillator, by its slot; a turn is a change of its level. It stands before a falling edge."""

    def __init__(self, machine: Machine, oscillators: Oscillators, slot: int) -> None:
        self.machine = machine
        self.slot = slot
        self.low, self.high = oscillators.halves[slot]

    def _is_turn(self, event: Event) -> bool:
        return event.slot == self.slot and event.purpose == "turn"

    @property
    def free(self) -> int:
        """How often it turns before anything else happens."""
        heap = self.machine.queue.heap
        first = heap[0]
        if not self._is_turn(first[2]):
            return 0
        others = min((time for time, _, event in heap if not self._is_turn(event)), default=None)
        if others is None:
            return FOREVER
        whole = max(0, (others - first[0]) // (self.low + self.high) - 1)
        turns, time, level = 2 * whole, first[0] + whole * (self.low + self.high), 0
        while time < others:
            turns, time, level = turns + 1, time + (self.high if level else self.low), 1 - level
        return turns

    def passed(self, turns: int) -> None:
        """So many turns went by: move its next event on."""
        if not turns:
            return
        queue = self.machine.queue
        entry = next(each for each in queue.heap if self._is_turn(each[2]))
        falling = turns % 2 == 0
        last = entry[0] + (turns - 1) // 2 * (self.low + self.high) + (self.low if falling else 0)
        self.machine.time = last
        queue.heap[:] = sorted(each for each in queue.heap if each is not entry)
        queue.add(last + (self.high if falling else self.low), Event(self.slot, "turn", ZERO if falling else ONE))
