"""What happens by time: a heap of (time, serial, event). All events of one time are applied together."""

from __future__ import annotations

from heapq import heappop, heappush
from typing import NamedTuple

from latchwork.engines.oracle.known import Pair


class Event(NamedTuple):
    """The timer in ``slot`` goes to ``value``. ``purpose`` is "set", "turn" (an oscillator) or "end" (a pulse)."""

    slot: int
    purpose: str
    value: Pair


class Queue:
    """``serial`` numbers events in the order in which they were asked for; ties of time follow it."""

    def __init__(self) -> None:
        self.heap: list[tuple[int, int, Event]] = []
        self.serial = 0

    def add(self, time: int, event: Event) -> int:
        """The event's serial."""
        self.serial += 1
        heappush(self.heap, (time, self.serial, event))
        return self.serial

    def pop(self) -> tuple[int, list[tuple[int, Event]]]:
        """The earliest time and its events with their serials, in order. IndexError where nothing is left."""
        time = self.heap[0][0]
        events = []
        while self.heap and self.heap[0][0] == time:
            _, serial, event = heappop(self.heap)
            events.append((serial, event))
        return time, events

    def saved(self) -> tuple[tuple[tuple[int, int, Event], ...], int]:
        return tuple(self.heap), self.serial

    def restore(self, saved: tuple[tuple[tuple[int, int, Event], ...], int]) -> None:
        heap, self.serial = saved
        self.heap = list(heap)
