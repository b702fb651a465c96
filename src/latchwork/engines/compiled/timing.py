"""What happens by time while compiled code holds the machine: the oracle's queue of events, and its timers."""

from __future__ import annotations

from latchwork.engines.compiled.code import Code
from latchwork.engines.oracle import Oracle
from latchwork.engines.oracle.elements import DelayElement
from latchwork.engines.oracle.events import Event
from latchwork.engines.oracle.known import ONE, ZERO
from latchwork.engines.oracle.outside import DRIVE


class Timing:
    def __init__(self, oracle: Oracle) -> None:
        self._oracle = oracle
        self._machine = oracle._machine
        elements = oracle._rounds.elements
        self._delays = {each.slot: each.time for each in elements if isinstance(each, DelayElement)}

    def saved(self) -> tuple[object, ...]:
        """Before a tick that may have to be undone."""
        pulses = tuple(pulse.saved() for pulse in self._oracle._pulses.values())
        return self._machine.queue.saved(), self._machine.time, pulses

    def undo(self, before: tuple[object, ...]) -> None:
        """The tick did not happen; nobody was woken."""
        queue, self._machine.time, pulses = before  # type: ignore[assignment]
        self._machine.queue.restore(queue)  # type: ignore[arg-type]
        for pulse, kept in zip(self._oracle._pulses.values(), pulses, strict=True):  # type: ignore[call-overload]
            pulse.restore(kept)
        self._oracle._outside.nobody_woken()

    def apply_next(self, code: Code) -> None:
        """Apply the events of the next moment."""
        oracle = self._oracle
        self._machine.time, events = self._machine.queue.pop()
        for serial, event in events:
            value = event.value
            if event.purpose == DRIVE:
                code.drive(event.slot, value[0])
                continue
            if oracle._outside.apply(event):
                continue
            if event.purpose == "turn":
                oracle._oscillators.turn(self._machine.queue, self._machine.time, event)
            elif event.purpose == "end":
                value = oracle._pulses[event.slot].end(serial, (code.slot(event.slot), 1))
            code.set_slot(event.slot, value[0])

    def heed(self, code: Code) -> None:
        """Enter what timers asked for into the queue."""
        machine = self._machine
        for slot, value in code.asks():
            if slot in self._oracle._pulses:
                pulse = self._oracle._pulses[slot]
                pulse.latest = machine.queue.add(machine.time + pulse.time, Event(slot, "end", ZERO))
                pulse.latest_certain = pulse.latest
            else:
                machine.queue.add(machine.time + self._delays[slot], Event(slot, "set", ONE if value else ZERO))
