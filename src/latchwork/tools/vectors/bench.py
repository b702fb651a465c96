"""All faulty specimens of a part side by side on one tester, each from several power-up states.

Lanes come in groups of ``STARTS``; group 0 is the sound part, the others have a fault each. What the sound part shows
alike from every start is what a vector may look for; a fault is shown once it was seen from every start.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from latchwork.analysis.one_part.faults import Fault, slot_of
from latchwork.analysis.one_part.lanes_bench import LanesBench
from latchwork.analysis.one_part.program import Program
from latchwork.reports.vectors import Vector
from latchwork.tools.vectors.judge import Judge
from latchwork.tools.vectors.tester import Socket

STARTS = 8
GROUP = (1 << STARTS) - 1
MARKS = {False: "C", True: "K"}  # a pulse from low, from high


@dataclass(frozen=True)
class Act:
    """Pins moved to levels, then perhaps one pulsed. ``release``: shared pins are let go."""

    levels: dict[int, int]
    pulsed: int = -1
    times: int = 1
    release: bool = False


class Specimens:
    """``shown``: lanes in which a fault was seen so far."""

    def __init__(self, tester: Socket, faults: list[Fault], seed: int) -> None:
        self.tester = tester
        self.faults = faults
        self._groups = len(faults) + 1
        self._every = sum(1 << STARTS * group for group in range(self._groups))
        self._random = Random(seed)
        program = Program(tester.part)
        states = {name: self._starts(len(slots)) for name, slots in program.state_slots.items()}
        floats = [self._random.getrandbits(STARTS) * self._every for _ in tester.part.pins]
        self._cells: dict[tuple[str, int, int], int] = {}
        self.bench = LanesBench(
            program,
            self._every * GROUP,
            self._stuck(program),
            states=states,
            floating=lambda pin: floats[pin],
            unwritten=self._unwritten,
        )
        self.shown = 0
        self.work = 0  # acts and pulses done, those taken back included
        self._judge = None if tester.part.behaviour.memories else Judge(tester)
        self.levels = dict.fromkeys((*tester.inputs, *tester.shared), 0)

    def _starts(self, width: int) -> list[int]:
        """Power-up values: all low, all high, and others."""
        return [(self._random.getrandbits(STARTS) & ~1 | 2) * self._every for _ in range(width)]

    def _unwritten(self, memory: str, address: int, bit: int) -> int:
        key = (memory, address, bit)
        if key not in self._cells:
            self._cells[key] = Random(f"{key}").getrandbits(STARTS) * self._every
        return self._cells[key]

    def _stuck(self, program: Program) -> dict[int, tuple[int, int]]:
        stuck: dict[int, tuple[int, int]] = {}
        for group, fault in enumerate(self.faults, 1):
            slot, lanes = slot_of(program, fault), GROUP << STARTS * group
            low, high = stuck.get(slot, (0, 0))
            stuck[slot] = (low, high | lanes) if fault.level else (low | lanes, high)
        return stuck

    def save(self) -> tuple[object, ...]:
        return self.bench.save(), self.shown, dict(self.levels), self._judge.save() if self._judge else None

    def restore(self, saved: tuple[object, ...]) -> None:
        bench, self.shown, levels, judge = saved  # type: ignore[assignment]
        if self._judge:
            self._judge.restore(judge)
        self.bench.restore(bench)  # type: ignore[arg-type]
        self.levels = dict(levels)  # type: ignore[call-overload]

    def do(self, act: Act) -> Vector | None:
        """Do it and look; what it shows is added to ``shown``. None where tester and part would drive one pin."""
        before = self.save()
        wanted = self.levels | act.levels
        shared = [] if act.release else self.tester.shared
        for _ in range(len(shared) + 1):
            driven = {pin: wanted[pin] for pin in (*self.tester.inputs, *shared)}
            self._drive(driven)
            against = [pin for pin in shared if self.bench.pin(pin)[0] & GROUP]
            if not against:
                break
            shared = [pin for pin in shared if pin not in against]
            self.restore(before)
        self._pulse(act, driven)
        if any(self.bench.pin(pin)[0] & GROUP for pin in shared):
            self.restore(before)
            return None
        self.levels = wanted
        self.work += act.times
        self._tell_judge(act, driven)
        return self._look(act, driven)

    def _tell_judge(self, act: Act, driven: dict[int, int]) -> None:
        if self._judge:
            self._judge.put(driven)
            for _ in range(act.times if act.pulsed >= 0 else 0):
                self._judge.put({act.pulsed: 1 - driven[act.pulsed]}, others=False)
                self._judge.put({act.pulsed: driven[act.pulsed]}, others=False)

    def _drive(self, driven: dict[int, int]) -> None:
        self.bench.put({pin: self.bench.full if level else 0 for pin, level in driven.items()})

    def _pulse(self, act: Act, driven: dict[int, int]) -> None:
        for _ in range(act.times if act.pulsed >= 0 else 0):
            self._drive({**driven, act.pulsed: 1 - driven[act.pulsed]})
            self._drive(driven)

    def _look(self, act: Act, driven: dict[int, int]) -> Vector:
        letters = []
        for pin in range(len(self.tester.part.pins)):
            if pin in driven:
                letters.append(MARKS[bool(driven[pin])] if pin == act.pulsed else str(driven[pin]))
            elif pin in self.tester.outputs or pin in self.tester.shared:
                letters.append(self._looked_at(pin))
            else:
                letters.append("N")
        return Vector("".join(letters), act.times)

    def _looked_at(self, pin: int) -> str:
        enabled, value = self.bench.pin(pin)
        full = self.bench.full
        seen = {"L": enabled & ~value, "H": value, "Z": full & ~enabled}
        if pin in self.tester.pulled_up:
            seen = {"L": enabled & ~value, "H": full & ~enabled | value}
        for letter, lanes in seen.items():
            if lanes & GROUP == GROUP and (self._judge is None or self._judge.sees(pin) == letter):
                self.shown |= full & ~lanes
                return letter
        return "X"

    def found(self) -> list[Fault]:
        """Faults seen from every start."""
        return [fault for group, fault in enumerate(self.faults, 1) if self.shown >> STARTS * group & GROUP == GROUP]

    def open_lanes(self) -> int:
        """Lanes of faults that were not seen yet."""
        return self.bench.full & ~GROUP & ~self.shown
