"""One part alone on the bench: set pins, watch pins. The rules of rounds in their plainest form, for tests only.

It knows nothing of nets or families: an input that was never set is low, a pin that nothing drives reads None.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from latchwork.logic import Expression
from latchwork.logic.evaluate import evaluate
from latchwork.parts import Behaviour, Level, OutputKind, Part, Update

ROUNDS = 50


@dataclass(frozen=True)
class Moment:
    """Everything that expressions can see: ports and states by name, words of memories by name."""

    variables: dict[str, int]
    memories: dict[str, dict[int, int]]

    def value(self, expression: Expression) -> int:
        readers = {name: lambda at, words=words: words.get(at, 0) for name, words in self.memories.items()}
        return evaluate(expression, self.variables, readers)


class Bench:
    """A part under power. ``state`` and ``memory`` may be looked at and changed; call ``settle`` after a change."""

    def __init__(self, part: Part, **levels: int) -> None:
        self.part = part
        behaviour = part.behaviour
        self.pins = dict.fromkeys((pin.name for pin in part.pins), 0)
        self.state = {state.name: 0 for state in (*behaviour.registers, *behaviour.latches, *behaviour.timers)}
        self.memory: dict[str, dict[int, int]] = {memory.name: {} for memory in behaviour.memories}
        self._put(levels)
        self._overwrite()
        self._settled = self._moment()

    def set(self, **levels: int) -> Bench:
        """Put levels on pins or vectors, all at once, and settle."""
        self._put(levels)
        self.settle()
        return self

    def pulse(self, port: str, times: int = 1) -> Bench:
        """High and low again, so often."""
        for _ in range(times):
            self.set(**{port: 1}).set(**{port: 0})
        return self

    def read(self, port: str) -> int | None:
        """What the part drives on a port, lowest bit first; None where it drives nothing."""
        bits = [self._driven().get(self.part.pins[pin].name) for pin in self.part.ports[port]]
        return None if None in bits else sum(bit << place for place, bit in enumerate(bits) if bit)

    def settle(self) -> None:
        """Rounds until nothing is triggered."""
        for _ in range(ROUNDS):
            self._overwrite()
            now = self._moment()
            if not self._trigger(self._settled, now):
                self._settled = self._moment()
                return
            self._settled = now
        raise AssertionError(f"{self.part.name} does not settle")

    def _put(self, levels: dict[str, int]) -> None:
        for port, value in levels.items():
            for place, pin in enumerate(self.part.ports[port]):
                self.pins[self.part.pins[pin].name] = value >> place & 1

    def _moment(self) -> Moment:
        names = [pin.name for pin in self.part.pins]
        ports = {
            port: sum(self.pins[names[pin]] << place for place, pin in enumerate(pins))
            for port, pins in self.part.ports.items()
        }
        return Moment(ports | self.state, {name: dict(words) for name, words in self.memory.items()})

    def _driven(self) -> dict[str, int | None]:
        """Pin name -> level, None where a drive is off."""
        now, found = self._moment(), {}
        for drive in self.part.behaviour.drives:
            enabled = drive.enable is None or now.value(drive.enable)
            value = now.value(drive.value)
            for place, pin in enumerate(self.part.ports[drive.port]):
                bit = value >> place & 1
                off = not enabled or (bit and drive.kind is OutputKind.OPEN_COLLECTOR)
                found[self.part.pins[pin].name] = None if off else bit
        return found

    def _overwrite(self) -> None:
        """Levels, transparent latches and level-written memories, until they change nothing more."""
        behaviour = self.part.behaviour
        for _ in range(ROUNDS):
            before = self._moment()
            for register in behaviour.registers:
                self._level(register.name, register.levels, before)
            for latch in behaviour.latches:
                if before.value(latch.enable):
                    self.state[latch.name] = before.value(latch.data)
                self._level(latch.name, latch.levels, before)
            for name, address, data in _level_writes(behaviour, before):
                self.memory[name][address] = data
            if self._moment() == before:
                return
        raise AssertionError(f"the levels of {self.part.name} do not settle")

    def _level(self, name: str, levels: tuple[Level, ...], before: Moment) -> None:
        active = [level for level in levels if before.value(level.active)]
        if active:
            self.state[name] = before.value(active[0].value)

    def _trigger(self, before: Moment, now: Moment) -> bool:
        """Let everything whose clock rose between two settled rounds take the values from before."""
        triggered = False
        for register in self.part.behaviour.registers:
            rising = [update for update in register.updates if _rose(update, before, now)]
            if rising:
                self.state[register.name] = before.value(rising[0].data)
                triggered = True
        for memory in self.part.behaviour.memories:
            for write in memory.writes:
                if write.clocked and before.value(write.strobe) < now.value(write.strobe):
                    self.memory[memory.name][before.value(write.address)] = before.value(write.data)
                    triggered = True
        return triggered


def _rose(update: Update, before: Moment, now: Moment) -> bool:
    return before.value(update.clock) < now.value(update.clock)


def _level_writes(behaviour: Behaviour, moment: Moment) -> Iterator[tuple[str, int, int]]:
    for memory in behaviour.memories:
        for write in memory.writes:
            if not write.clocked and moment.value(write.strobe):
                yield memory.name, moment.value(write.address), moment.value(write.data)
