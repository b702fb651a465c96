"""What a chip does when some of its pins have moved: states change, and outputs will, each in its own time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple, Protocol

from latchwork.analysis.arrival.checks import NAMES
from latchwork.analysis.arrival.graph import Arc
from latchwork.analysis.arrival.senses import FALL, RISE, Kind, pins_of
from latchwork.analysis.arrival.times import address_time, data_time, limit_time
from latchwork.engines.oracle.functions import Function, pair_function
from latchwork.logic import Expression
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Memory, OutputKind, Register, Write

OFF = -1
CHANGES = (Kind.THROUGH, Kind.READ, Kind.CLOCK, Kind.OPEN, Kind.SET)
Moved = dict[int, int]  # pin -> the edge it came with


class Levels(Protocol):
    """Nets by index; the last one is what an open input reads."""

    def __getitem__(self, net: NetId, /) -> int: ...


class History(Protocol):
    """Nets now, and a moment ago."""

    @property
    def now(self) -> list[int]: ...
    def ago(self, setups: dict[NetId, int]) -> Levels:
        """The nets as they were before their setup times (ps); those that are not named, as they are."""


class Coming(NamedTuple):
    """Bit ``bit`` of drive ``drive`` will show ``level`` (OFF: nothing) ``delay`` ps from now. ``edge``: of the net."""

    drive: int
    bit: int
    level: int
    delay: int


class Tardy(NamedTuple):
    """A chip took something else than it would have, had it waited for its inputs. ``what``: a state or memory."""

    chip: ChipId
    at: int
    what: str


class Chip:
    """One chip. ``arcs``: those that end at its outputs. ``states`` and ``cells`` are its own."""

    def __init__(self, netlist: Netlist, chip: ChipId, arcs: Iterable[Arc]) -> None:
        self.netlist, self.chip, self.part = netlist, chip, netlist.part_of(chip)
        behaviour = self.part.behaviour
        registers = [register.name for register in behaviour.registers]
        latches = [latch.name for latch in behaviour.latches]
        self.names = [*registers, *latches, *(timer.name for timer in behaviour.timers)]
        self.states = [0] * len(self.names)
        self.cells: list[dict[int, int]] = [{} for _ in behaviour.memories]
        self.shown: dict[tuple[int, int], int] = {}  # what each output was last told to show
        self.unexplained = 0
        self._clocks: dict[Expression, int] = {}
        self._begun: dict[Write, int] = {}  # address when writing began
        self._done: dict[Expression, tuple[Function, tuple[int, ...]]] = {}
        self._arcs: dict[tuple[int, int, int, int, int], list[Arc]] = {}
        for arc in arcs:
            if arc.part_arc is not None:
                own = arc.part_arc
                self._arcs.setdefault((own.start, arc.start & 1, own.drive, own.bit, arc.end & 1), []).append(arc)

    # ---- expressions

    def value(self, node: Expression, levels: Levels) -> int:
        if node not in self._done:
            function = pair_function(node, frozenset(self.names), False)
            self._done[node] = function, tuple(self._place(*place) for place in function.layout)
        function, places = self._done[node]
        return int(function.call((levels, (), self.states, (), self.cells), places)[0])  # type: ignore[arg-type]

    def _place(self, kind: str, name: str, bit: int) -> int:
        if kind == "state":
            return self.names.index(name)
        if kind == "memory":
            return [memory.name for memory in self.part.behaviour.memories].index(name)
        return self.netlist.chips[self.chip].pins[self.part.ports[name][bit]]

    @cached_property
    def _acting(self) -> list[Expression]:
        behaviour = self.part.behaviour
        clocks = [update.clock for register in behaviour.registers for update in register.updates]
        latches = [latch.enable for latch in behaviour.latches]
        return [*clocks, *latches, *(write.strobe for memory in behaviour.memories for write in memory.writes)]

    def settle(self, levels: Levels) -> None:
        """Take the levels as those of a machine at rest."""
        for node in self._acting:
            self._clocks[node] = self.value(node, levels)
        self.shown = dict(self._targets(levels))

    # ---- what happens when pins move

    def move(self, moved: Moved, history: History) -> tuple[list[Coming], list[Tardy]]:
        """The pins in ``moved`` have just come to new levels."""
        tardy: list[Tardy] = []
        edges = {node: (self._clocks[node], self.value(node, history.now)) for node in self._acting}
        for register in self.part.behaviour.registers:
            tardy += self._clock(register, edges, moved, history)
        for memory in self.part.behaviour.memories:
            tardy += self._write(memory, edges, moved, history)
        tardy += self._latches(edges, moved, history)
        self._clocks = {node: now for node, (_, now) in edges.items()}
        return list(self._coming(moved, history.now)), tardy

    def _clock(
        self, register: Register, edges: dict[Expression, tuple[int, int]], moved: Moved, history: History
    ) -> Iterator[Tardy]:
        index = self.names.index(register.name)
        for update in register.updates:
            if edges[update.clock] == (0, 1):
                at = self._trigger(update.clock, moved)
                sampled = self.value(update.data, history.ago(self._setups(update.data, at)))
                if sampled != self.value(update.data, history.now):
                    yield Tardy(self.chip, at, register.name)
                self.states[index] = sampled
                break
        for level in register.levels:
            if self.value(level.active, history.now):
                self.states[index] = self.value(level.value, history.now)
                break

    def _latches(self, edges: dict[Expression, tuple[int, int]], moved: Moved, history: History) -> Iterator[Tardy]:
        for latch in self.part.behaviour.latches:
            index = self.names.index(latch.name)
            was, now = edges[latch.enable]
            if now:
                self.states[index] = self.value(latch.data, history.now)
            elif was:
                at = self._trigger(latch.enable, moved)
                sampled = self.value(latch.data, history.ago(self._setups(latch.data, at)))
                if sampled != self.value(latch.data, history.now):
                    yield Tardy(self.chip, at, latch.name)
                self.states[index] = sampled
            for level in latch.levels:
                if self.value(level.active, history.now):
                    self.states[index] = self.value(level.value, history.now)
                    break

    def _write(
        self, memory: Memory, edges: dict[Expression, tuple[int, int]], moved: Moved, history: History
    ) -> Iterator[Tardy]:
        for write in memory.writes:
            was, now = edges[write.strobe]
            if was == now:
                continue
            at = self._trigger(write.strobe, moved)
            edge = NAMES[moved.get(at, 0)]
            if now:
                self._begun[write] = self._address(write, at, edge, history)
            if now == write.clocked and not self._wrote(memory, write, (at, edge), history):
                yield Tardy(self.chip, at, memory.name)

    def _address(self, write: Write, at: int, edge: str, history: History) -> int:
        """The address that stood as long before an edge of the strobe as it must."""
        setups = {}
        for net, pin in self._read_by(write.address):
            time = address_time(self.part, pin, at, edge)
            setups[net] = 0 if time is None else time.picoseconds
        return self.value(write.address, history.ago(setups))

    def _wrote(self, memory: Memory, write: Write, strobe: tuple[int, str], history: History) -> bool:
        """Write at the end of a pulse, or at a clock; whether all had stood long enough."""
        cells = self.cells[self.part.behaviour.memories.index(memory)]
        setups = {net: data_time(self.part, pin, *strobe).picoseconds for net, pin in self._read_by(write.data)}
        data, address = self.value(write.data, history.ago(setups)), self.value(write.address, history.now)
        places = {self._begun.get(write, address), self._address(write, *strobe, history), address}
        for place in places:
            cells[place] = data
        return len(places) == 1 and data == self.value(write.data, history.now)

    def _trigger(self, node: Expression, moved: Moved) -> int:
        """The pin whose move changed a clock or a strobe."""
        pins = pins_of(self.part, node)
        return next((pin for pin in pins if pin in moved), pins[0] if pins else 0)

    def _setups(self, data: Expression, at: int) -> dict[NetId, int]:
        """For each net at a pin that ``data`` reads the setup time against pin ``at``."""
        key = (data, at)
        if key not in self._known_setups:
            self._known_setups[key] = {
                net: limit_time(self.part, "setup", pin, at)[0].picoseconds for net, pin in self._read_by(data)
            }
        return self._known_setups[key]

    def _read_by(self, data: Expression) -> list[tuple[NetId, int]]:
        """The nets that an expression reads, each with its pin."""
        if data not in self._known_pins:
            nets = self.netlist.chips[self.chip].pins
            self._known_pins[data] = [(nets[pin], pin) for pin in pins_of(self.part, data)]
        return self._known_pins[data]

    @cached_property
    def _known_pins(self) -> dict[Expression, list[tuple[NetId, int]]]:
        return {}

    @cached_property
    def _known_setups(self) -> dict[tuple[Expression, int], dict[NetId, int]]:
        return {}

    # ---- outputs

    def _targets(self, levels: Levels) -> Iterator[tuple[tuple[int, int], int]]:
        for number, drive in enumerate(self.part.behaviour.drives):
            value = self.value(drive.value, levels)
            on = drive.enable is None or drive.kind is not OutputKind.THREE_STATE or self.value(drive.enable, levels)
            for bit, pin in enumerate(self.part.ports[drive.port]):
                if self.netlist.chips[self.chip].pins[pin] == NO_NET:
                    continue
                level = value >> bit & 1
                off = not on or (drive.kind is OutputKind.OPEN_COLLECTOR and level)
                yield (number, bit), OFF if off else level

    def _coming(self, moved: Moved, levels: Levels) -> Iterator[Coming]:
        for (drive, bit), level in self._targets(levels):
            was = self.shown[drive, bit]
            if level != was:
                self.shown[drive, bit] = level
                yield Coming(drive, bit, level, self._delay(moved, (drive, bit), was, level))

    def _delay(self, moved: Moved, output: tuple[int, int], was: int, level: int) -> int:
        """The slowest of the arcs that the moved pins begin and that can have done this."""
        drive = self.part.behaviour.drives[output[0]]
        three_state = drive.kind is OutputKind.THREE_STATE
        switched = Kind.ENABLE if was == OFF else Kind.DISABLE
        kinds = (switched,) if three_state and OFF in (was, level) else CHANGES
        ends = (FALL, RISE) if level == OFF and three_state else (RISE if level in (OFF, 1) else FALL,)
        found = [
            arc.picoseconds
            for pin, edge in moved.items()
            for end in ends
            for arc in self._arcs.get((pin, edge, *output, end), ())
            if arc.kind in kinds
        ]
        if not found:
            self.unexplained += 1
        return max(found, default=0)
