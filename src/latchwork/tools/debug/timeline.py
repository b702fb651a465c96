"""The past of a run: saved moments with replay between them, and what hands and the outside did, to be done again.

A *place* is a tick and the number of acts done; acts happen between ticks. From a saved moment on, the machine does the
same again, because all it depends on is saved or recorded. Going back keeps the recorded acts that follow: going
forward does them again, until the person does something new; then what followed is forgotten.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NamedTuple

from latchwork.engines.devices import DeviceError
from latchwork.engines.looks import Looks
from latchwork.problems import LatchworkError, Problem
from latchwork.tools.debug.footprint import footprint
from latchwork.tools.debug.machine import Machine
from latchwork.tools.debug.probes import Probe


class Place(NamedTuple):
    tick: int
    acts: int


class Act(NamedTuple):
    """Something done from outside when so many ticks had passed: ``kind`` "set", "send" or "put"."""

    tick: int
    kind: str
    name: str
    value: Any


@dataclass(frozen=True)
class Mark:
    """A saved moment. ``counts``: clocks and instructions here and before the last tick. ``size``: bytes of its own."""

    place: Place
    counts: tuple[tuple[int, int], tuple[int, int]]
    saved: object
    parts: set[int]
    size: int


@dataclass(frozen=True)
class Horizon:
    """How far back one can go. ``every``: clocks between saved moments now; ``limit_*``: what was asked for."""

    oldest_clock: int
    oldest_tick: int
    moments: int
    bytes_used: int
    every: int
    limit_clocks: int
    limit_bytes: int


CLOCKS, INSTRUCTIONS = 0, 1
LINGER = 4
"""Ticks that are looked at one by one after something came: what follows from it with the next clock is seen too."""

Left = Callable[[], int]
"""So many clocks from here on nothing can be reached that counts clocks, instructions or ticks."""


class Haste:
    """Runs over what nobody looks at. ``looks``: what is looked at; ``hastened`` is called after clocks ran by."""

    def __init__(
        self, timeline: Timeline, looks: Callable[[], Looks | None], left: Left, hastened: Callable[[], object]
    ) -> None:
        self.timeline = timeline
        self.looks = looks
        self.left = left
        self.hastened = hastened
        self._lingers = LINGER if timeline.machine.is_quick else -1

    def try_it(self) -> None:
        """Before each tick: run on to where something may come, one clock less."""
        if self._lingers:
            self._lingers -= 1
            return
        looks, clocks = self.looks(), self.left() - 2
        before = self.timeline.here
        if looks is None or not self.timeline.hasten(looks, clocks):
            self._lingers = LINGER
        if self.timeline.here != before:
            self.hastened()


class Timeline:
    def __init__(self, machine: Machine, every: int, horizon_clocks: int, horizon_bytes: int) -> None:
        self.machine = machine
        self.every = self._asked_every = every
        self.horizon_clocks = horizon_clocks
        self.horizon_bytes = horizon_bytes
        self.always = Looks()  # looked at in every run; nothing else is in replays that look at nothing
        self.acts: list[Act] = []
        self.done = 0
        self.ticked = False  # whether the last step was a tick, and no act
        self.replaying = False
        self.before = self.counts = self._counted()
        self.marks: list[Mark] = []
        self.first = self.here
        self._mark(0)

    def _counted(self) -> tuple[int, int]:
        return self.machine.clocks, self.machine.instructions or 0

    @property
    def here(self) -> Place:
        return Place(self.machine.simulation.ticks, self.done)

    # Forward

    def step(self) -> bool:
        """One tick, or the act that was recorded here; False where nothing will ever happen again."""
        if self.done < len(self.acts) and self.acts[self.done].tick == self.here.tick:
            self._redo(self.acts[self.done])
            return True
        self.ticked = True
        alive, failure = True, None
        try:
            alive = self.machine.tick() or self.machine.step_hand_clock()
        except DeviceError as error:
            failure = error
        self.before, self.counts = self.counts, self._counted()
        self._keep()
        if failure and not self.replaying:
            raise failure
        return alive

    def hasten(self, looks: Looks, clocks: int) -> bool:
        """Let up to so many clocks run by in which nothing comes that is looked at; whether all of them did. What
        comes next is gone by ``step``."""
        at = self._at(self.here)
        if at < 0:
            return False
        clocks = min(clocks, self.every - (self.machine.clocks - self.marks[at].counts[0][CLOCKS]))
        if self.done < len(self.acts):
            clocks = min(clocks, (self.acts[self.done].tick - self.here.tick) // 2 - 1)
        if clocks < 1:
            return False
        passed = self.machine.hasten(looks, clocks)
        if passed:
            self.ticked, self.before = True, self._counted()
            self.counts = self.before
        return passed == clocks

    def _redo(self, act: Act) -> None:
        self.ticked = False
        self.done += 1
        try:
            self._perform(act)
        except DeviceError:
            if not self.replaying:
                raise
        finally:
            self.counts = self._counted()

    def _perform(self, act: Act) -> None:
        if act.kind == "set":
            self.machine[act.name] = act.value
        elif act.kind == "send":
            self.machine.send(act.name, act.value)
        else:
            address, value = act.value
            self.machine.memory[act.name][address] = value

    def act(self, kind: str, name: str, value: Any) -> None:
        """Do something from outside, and record it. What was recorded to follow is forgotten."""
        act = Act(self.here.tick, kind, name, value)
        before = self.here
        failure = None
        try:
            self._perform(act)
        except DeviceError as error:
            failure = error
        del self.acts[self.done :]
        self.marks = [mark for mark in self.marks if mark.place <= before]
        self.acts.append(act)
        self.done += 1
        self.ticked = False
        self.counts = self._counted()
        if failure:
            raise failure

    # Saved moments

    def _keep(self) -> None:
        at = self._at(self.here)
        if at < 0 or self.machine.clocks - self.marks[at].counts[0][CLOCKS] >= self.every or self._is_slow(at):
            self._mark(at + 1)
            self._trim()

    def _is_slow(self, at: int) -> bool:
        """Many ticks without a clock."""
        return self.here.tick - self.marks[at].place.tick >= 4 * self.every

    def _mark(self, at: int) -> None:
        if at < len(self.marks) and self.marks[at].place == self.here:
            return
        saved = self.machine.save()
        known = self.marks[at - 1].parts if at else set()
        size, parts = footprint(saved, known)
        self.marks.insert(at, Mark(self.here, (self.counts, self.before), saved, parts, size))

    def _at(self, place: Place) -> int:
        """The last saved moment that is not after a place; -1 where there is none."""
        return bisect_right(self.marks, place, key=lambda mark: mark.place) - 1

    def _trim(self) -> None:
        oldest = self.machine.clocks - self.horizon_clocks
        while len(self.marks) > 2 and self.marks[1].counts[0][CLOCKS] <= oldest:
            self._drop_oldest()
        while len(self.marks) > 3 and self._size() > self.horizon_bytes:
            if self.every < self.horizon_clocks // 4:
                self._thin()
            else:
                self._drop_oldest()

    def _drop_oldest(self) -> None:
        del self.marks[0]
        self._resize(0)

    def _thin(self) -> None:
        """Keep every other moment, and from here on save half as often: replays take longer, memory lasts."""
        self.marks = [*self.marks[:-1:2], self.marks[-1]]
        self.every *= 2
        for at in range(len(self.marks)):
            self._resize(at)

    def _resize(self, at: int) -> None:
        mark = self.marks[at]
        size, parts = footprint(mark.saved, self.marks[at - 1].parts if at else set())
        self.marks[at] = Mark(mark.place, mark.counts, mark.saved, parts, size)

    def _size(self) -> int:
        return sum(mark.size for mark in self.marks)

    def limit(self, clocks: int | None = None, bytes_used: int | None = None, every: int | None = None) -> None:
        """Set how far back one can go, how much memory that may take, and how many clocks lie between moments."""
        self.horizon_clocks = self.horizon_clocks if clocks is None else clocks
        self.horizon_bytes = self.horizon_bytes if bytes_used is None else bytes_used
        self.every = self._asked_every = self._asked_every if every is None else every
        self._trim()

    @property
    def horizon(self) -> Horizon:
        oldest = self.marks[0]
        return Horizon(
            oldest_clock=oldest.counts[0][CLOCKS],
            oldest_tick=oldest.place.tick,
            moments=len(self.marks),
            bytes_used=self._size(),
            every=self.every,
            limit_clocks=self.horizon_clocks,
            limit_bytes=self.horizon_bytes,
        )

    # Back

    def _restore(self, mark: Mark) -> None:
        self.machine.restore(mark.saved)
        self.done = mark.place.acts
        self.counts, self.before = mark.counts
        self.ticked = True

    def _replay(self, mark: Mark, until: Callable[[], bool], left: Left) -> None:
        """From a saved moment forward, quietly, until something holds, which will not be for as many clocks as are
        ``left``."""
        self._restore(mark)
        self._replay_on(until, lambda: self.always, left)

    def to(self, place: Place) -> None:
        """Go to a place in the past: the last that is not after it. Raises LatchworkError R502."""
        at = self._at(place)
        if at < 0:
            raise self._too_far()
        mark = self.marks[at]
        last = mark.place

        def passed() -> bool:
            nonlocal last
            if self.here > place:
                return True
            last = self.here
            return self.here == place

        self._replay(mark, passed, lambda: (place.tick - self.here.tick) // 2)
        if self.here != last:
            self._replay(mark, lambda: self.here >= last, lambda: (last.tick - self.here.tick) // 2)

    def to_count(self, unit: int, number: int) -> None:
        """Go back to where the count of clocks or instructions came to be ``number``. Raises LatchworkError R502."""
        earlier = [mark for mark in self.marks if mark.counts[0][unit] < number]
        if not earlier:
            if self.marks[0].place != self.first:
                raise self._too_far()
            self._restore(self.marks[0])
            return
        self._replay(earlier[-1], lambda: self.counts[unit] >= number, lambda: number - self.counts[unit])

    def to_last(self, probe: Probe) -> bool:
        """Go to the last place before here at which a probe hits; stay, and say False, where there is none."""
        start = end = self.here
        for at in range(self._at(start), -1, -1):
            mark = self.marks[at]
            if mark.place == start:
                continue
            found = self._last_hit(mark, end, probe, last=end == start)
            if found:
                self.to(found)
                return True
            end = mark.place
            if self.machine.interrupted:
                break
        self.to(start)
        return False

    def _last_hit(self, mark: Mark, end: Place, probe: Probe, *, last: bool) -> Place | None:
        """The last hit after a saved moment and up to ``end``, which counts itself unless it is where we came from."""
        found: list[Place] = []
        self._restore(mark)
        probe.prime()

        def looked() -> bool:
            here = self.here
            if here != mark.place and self.ticked and not (last and here >= end) and probe.hit():
                found.append(here)
            return here >= end

        self._replay_on(looked, probe.looks, lambda: (end.tick - self.here.tick) // 2, probe.prime)
        return found[-1] if found else None

    def _replay_on(
        self,
        until: Callable[[], bool],
        looks: Callable[[], Looks | None],
        left: Left,
        hastened: Callable[[], object] = lambda: None,
    ) -> None:
        self.replaying, was = True, self.replaying
        haste = Haste(self, looks, left, hastened)
        try:
            while not until():
                haste.try_it()
                if not self.step():
                    break
        finally:
            self.replaying = was

    def _too_far(self) -> LatchworkError:
        oldest = self.horizon
        message = f"that is farther back than clock {oldest.oldest_clock}, the oldest moment that is kept"
        hint = "a longer horizon reaches farther, and takes more memory"
        return LatchworkError(Problem("R502", message, help=hint))
