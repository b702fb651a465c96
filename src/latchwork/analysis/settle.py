"""What chosen nets settle to under given facts, with everything else unknown.

Only what a question needs is looked at. Registers, latches, timers and memories are unknown unless given; a latch
that is known to be open shows its data, and a level set or clear that is known to act shows its value. Rails and
the netlist's assumptions are facts. A net that is given overrides its drivers. Loops start from unknown and are
gone through again until nothing more becomes known, so what is called known is so in every settled state.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from latchwork.analysis.depth import deep
from latchwork.analysis.lanes import UNKNOWN, Lanes, Sliced, both, choose, either, flip
from latchwork.logic import Expression
from latchwork.logic.evaluate import Known
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import Driver, drivers
from latchwork.parts import Floating, Latch, OutputKind, Register, TieKind, TimerKind

_PASSES = 8


class StateBit(NamedTuple):
    """Bit ``bit`` of a register, latch or timer of a chip."""

    chip: ChipId
    state: str
    bit: int


class Touch(NamedTuple):
    """A tie that ends on a net: the chip, the tie's name, the net at its other end, its kind."""

    chip: ChipId
    tie: str
    other: NetId
    kind: TieKind


@dataclass(frozen=True, eq=False)
class Combinational:
    """The combinational part of a machine. ``contents``: what ROMs hold, byte by byte in their own pin order.
    ``closed``: switches (chip, name of the tie) known to be closed or open; the others may be either."""

    netlist: Netlist
    contents: Mapping[ChipId, bytes] = field(default_factory=dict)
    closed: Mapping[tuple[ChipId, str], bool] = field(default_factory=dict)

    @cached_property
    def facts(self) -> dict[NetId, int]:
        """Nets whose level is constant: rails and assumptions."""
        stated = {assumption.net: assumption.level for assumption in self.netlist.assumptions}
        return {**stated, self.netlist.high: 1, self.netlist.low: 0}

    def values(
        self,
        targets: Iterable[NetId],
        given: Mapping[NetId, int] = {},
        states: Mapping[tuple[ChipId, str], Known] = {},
    ) -> dict[NetId, Known]:
        """The level of each target as (value, known), both 0 or 1."""
        settling = self.under(given, states)
        return {net: (value[0], value[0] | value[1]) for net in targets for value in [settling.net(net)]}

    def enables(
        self,
        net: NetId,
        given: Mapping[NetId, int] = {},
        states: Mapping[tuple[ChipId, str], Known] = {},
    ) -> list[tuple[Driver, bool | None]]:
        """Each driver of the net with whether it is enabled; None where that is not known."""
        settling = self.under(given, states)
        answers: dict[Lanes, bool | None] = {(1, 0): True, (0, 1): False}
        return [(driver, answers.get(settling.driver(driver)[1])) for driver in self.drivers_of(net)]

    def under(self, given: Mapping[NetId, int], states: Mapping[tuple[ChipId, str], Known]) -> Settling:
        """One case, to be asked about any net or state."""
        bits: dict[StateBit, Lanes] = {}
        for (chip, name), (value, known) in states.items():
            for bit in range(known.bit_length()):
                if known >> bit & 1:
                    bits[StateBit(chip, name, bit)] = (1, 0) if value >> bit & 1 else (0, 1)
        return Settling(self, 1, {net: (1, 0) if level else (0, 1) for net, level in given.items()}, bits)

    @cached_property
    def _drivers(self) -> dict[NetId, tuple[Driver, ...]]:
        return {}

    def drivers_of(self, net: NetId) -> tuple[Driver, ...]:
        if net not in self._drivers:
            self._drivers[net] = drivers(self.netlist, net)
        return self._drivers[net]

    @cached_property
    def touches(self) -> dict[NetId, list[Touch]]:
        """The resistors and switches on each net."""
        found: dict[NetId, list[Touch]] = {}
        for chip in range(len(self.netlist.chips)):
            for tie in self.netlist.part_of(chip).behaviour.ties:
                ends = [self.netlist.nets_of(chip, port)[0] for port in (tie.a, tie.b)]
                for this, other in (ends, ends[::-1]):
                    if NO_NET not in ends:
                        found.setdefault(this, []).append(Touch(chip, tie.name, other, tie.kind))
        return found

    @cached_property
    def kept(self) -> frozenset[NetId]:
        """Nets that a keeper holds."""
        return frozenset(
            net
            for chip in range(len(self.netlist.chips))
            for keeper in self.netlist.part_of(chip).behaviour.keepers
            for net in self.netlist.nets_of(chip, keeper.port)
        )

    @cached_property
    def held(self) -> dict[tuple[ChipId, str], Register | Latch]:
        """The registers and latches of all chips."""
        found: dict[tuple[ChipId, str], Register | Latch] = {}
        for chip in range(len(self.netlist.chips)):
            behaviour = self.netlist.part_of(chip).behaviour
            found.update({(chip, item.name): item for item in behaviour.registers})
            found.update({(chip, item.name): item for item in behaviour.latches})
        return found


def running(netlist: Netlist, reset: bool = False) -> dict[tuple[ChipId, str], Known]:
    """The states of start-up timers while the machine runs, or while it is being reset."""
    return {
        (chip, timer.name): (0 if reset else 1, 1)
        for chip in range(len(netlist.chips))
        for timer in netlist.part_of(chip).behaviour.timers
        if timer.kind is TimerKind.STARTUP
    }


class Settling:
    """Nets and states in ``width`` cases side by side, under what is given in each of them."""

    def __init__(
        self, whole: Combinational, width: int, given: Mapping[NetId, Lanes], states: Mapping[StateBit, Lanes]
    ) -> None:
        self.whole = whole
        self.full = (1 << width) - 1
        facts = {net: self.fixed(level) for net, level in whole.facts.items()}
        self.given = {**facts, **given}
        self.states = states
        self._found: dict[object, Lanes] = {}
        self._before: dict[object, Lanes] = {}
        self._asked: set[object] = set()
        self._looped = False
        self._chips: dict[ChipId, _Inside] = {}

    def fixed(self, level: int) -> Lanes:
        return (self.full, 0) if level else (0, self.full)

    def net(self, net: NetId) -> Lanes:
        """What the net carries."""
        return self._settled(lambda: self.read_net(net))

    def state(self, at: StateBit) -> Lanes:
        """What the state holds, as far as that is known."""
        return self._settled(lambda: self.read_state(at))

    def floats(self, net: NetId) -> int:
        """The cases in which surely nothing holds the net."""
        return self._settled(lambda: self.read_floating(net))[0]

    def driver(self, driver: Driver) -> tuple[Lanes, Lanes]:
        """Value and enable of a driver."""
        return self._settled(lambda: self._drive(driver, 0)), self._settled(lambda: self._drive(driver, 1))

    def expression(self, chip: ChipId, bit: Callable[[Sliced], Lanes]) -> Lanes:
        """What ``bit`` finds in an expression of the chip's behaviour."""
        return self._settled(lambda: bit(self.inside(chip).sliced))

    def _settled(self, ask: Callable[[], Lanes]) -> Lanes:
        with deep():
            for _ in range(_PASSES):
                self._looped = False
                answer = ask()
                if not self._looped or self._found == self._before:
                    break
                self._before = self._found
                self._found, self._chips = {}, {}
            return answer

    def inside(self, chip: ChipId) -> _Inside:
        if chip not in self._chips:
            self._chips[chip] = _Inside(self, chip)
        return self._chips[chip]

    def once(self, key: object, find: Callable[[], Lanes]) -> Lanes:
        """A value that is worked out once; asked for while that goes on, what the pass before found."""
        if key in self._found:
            return self._found[key]
        if key in self._asked:
            self._looped = True
            return self._before.get(key, UNKNOWN)
        self._asked.add(key)
        try:
            self._found[key] = result = find()
        finally:
            self._asked.discard(key)
        return result

    # ---- nets

    def read_net(self, net: NetId) -> Lanes:
        given = self.given.get(net)
        return given if given is not None else self.once(("net", net), lambda: self._resolve(net))

    def read_floating(self, net: NetId) -> Lanes:
        """1 where surely nothing holds the net."""
        if net in self.given or net in self.whole.kept:
            return self.fixed(0)
        return self.once(("floats", net), lambda: self._find_floating(net))

    def _find_floating(self, net: NetId) -> Lanes:
        result = self.fixed(1)
        for driver in self.whole.drivers_of(net):
            result = both(result, flip(self._drive(driver, 1)))
        return self.fixed(0) if self.whole.touches.get(net) else result

    def _resolve(self, net: NetId) -> Lanes:
        """Strong drivers first; where there may be none, what pulls say."""
        surely, one, zero = self._strong(net)
        pulled = self._pulled(net) if surely != self.full else UNKNOWN
        open_ones = pulled[0] & ~zero
        open_zeros = pulled[1] & ~one
        return (surely & ~zero | ~surely & open_ones) & self.full, (surely & ~one | ~surely & open_zeros) & self.full

    def _strong(self, net: NetId) -> tuple[int, int, int]:
        """The cases in which something surely drives the net, something may drive 1, something may drive 0."""
        surely = may_one = may_zero = 0
        for value, enable in self._sources(net):
            on = self.full & ~enable[1]
            surely |= enable[0]
            may_one |= on & ~value[1]
            may_zero |= on & ~value[0]
        return surely, may_one, may_zero

    def _sources(self, net: NetId) -> Iterator[tuple[Lanes, Lanes]]:
        for driver in self.whole.drivers_of(net):
            enable = self._drive(driver, 1)
            if enable[1] != self.full:
                yield self._drive(driver, 0), enable
        for touch in self.whole.touches.get(net, ()):
            if touch.kind is TieKind.SWITCH and self.whole.closed.get((touch.chip, touch.tie)) is not False:
                yield self._through(touch)

    def _through(self, touch: Touch) -> tuple[Lanes, Lanes]:
        closed = self.fixed(1) if (touch.chip, touch.tie) in self.whole.closed else UNKNOWN
        surely = self._strong_at(touch.other)
        reach = self.once(("driven", touch.other), lambda: self._driven(touch.other))
        return surely, both(closed, reach)

    def _strong_at(self, net: NetId) -> Lanes:
        """The strong value of a net, unknown where nothing surely drives it."""
        given = self.given.get(net)
        return given if given is not None else self.once(("strong", net), lambda: self._only_strong(net))

    def _only_strong(self, net: NetId) -> Lanes:
        surely, one, zero = self._strong(net)
        return surely & ~zero, surely & ~one

    def _driven(self, net: NetId) -> Lanes:
        """1 where something surely drives the net strongly, 0 where surely nothing does."""
        if net in self.given:
            return self.fixed(1)
        enables = [enable for _, enable in self._sources(net)]
        result = self.fixed(0)
        for enable in enables:
            result = either(result, enable)
        return result

    def _pulled(self, net: NetId) -> Lanes:
        """What resistors say together; unknown where they do not agree or a keeper holds the net."""
        values = [self._strong_at(t.other) for t in self.whole.touches.get(net, ()) if t.kind is TieKind.RESISTOR]
        if not values or net in self.whole.kept:
            return UNKNOWN
        ones = zeros = self.full
        for value in values:
            ones &= value[0]
            zeros &= value[1]
        return ones, zeros

    def _drive(self, driver: Driver, which: int) -> Lanes:
        """The value (0) or enable (1) of a driver."""
        return self.once(("drive", driver, which), lambda: self._find_drive(driver, which))

    def _find_drive(self, driver: Driver, which: int) -> Lanes:
        drive = self.whole.netlist.part_of(driver.chip).behaviour.drives[driver.drive]
        sliced = self.inside(driver.chip).sliced
        if drive.kind is OutputKind.OPEN_COLLECTOR:
            return flip(sliced.bit(drive.value, driver.bit)) if which else self.fixed(0)
        if not which:
            return sliced.bit(drive.value, driver.bit)
        return sliced.bit(drive.enable) if drive.enable is not None else self.fixed(1)

    # ---- states

    def read_state(self, at: StateBit) -> Lanes:
        given = self.states.get(at)
        return given if given is not None else self.once(("state", at), lambda: self._find_state(at))

    def _find_state(self, at: StateBit) -> Lanes:
        item = self.whole.held.get((at.chip, at.state))
        if item is None:
            return UNKNOWN
        sliced = self.inside(at.chip).sliced
        result = UNKNOWN
        if isinstance(item, Latch):
            result = choose(sliced.bit(item.enable), sliced.bit(item.data, at.bit), UNKNOWN)
        return self.levelled(sliced, item, at.bit, result)

    def levelled(self, sliced: Sliced, item: Register | Latch, bit: int, result: Lanes) -> Lanes:
        """``result``, overwritten by the level set or clear that acts."""
        for level in reversed(item.levels):
            active = sliced.bit(level.active)
            if active[1] != self.full:
                result = choose(active, sliced.bit(level.value, bit), result)
        return result


class _Inside:
    """A chip's ports, states and memories as its expressions read them."""

    def __init__(self, settling: Settling, chip: ChipId) -> None:
        self._settling = settling
        self._chip = chip
        self._part = settling.whole.netlist.part_of(chip)
        self.sliced = Sliced(settling.full, self)

    def variable(self, name: str, bit: int) -> Lanes:
        pins = self._part.ports.get(name)
        if pins is None:
            return self._settling.read_state(StateBit(self._chip, name, bit))
        return self._at_pin(self._settling.whole.netlist.chips[self._chip].pins[pins[bit]])

    def _at_pin(self, net: NetId) -> Lanes:
        """A pin that nothing holds reads as its family does."""
        settling = self._settling
        floats = self._part.floating is Floating.HIGH
        if net == NO_NET:
            return settling.fixed(1) if floats else UNKNOWN
        value = settling.read_net(net)
        if floats and (value[0] | value[1]) != settling.full:
            return value[0] | settling.read_floating(net)[0], value[1]
        return value

    def memory(self, read: Expression, address: Callable[[], Sequence[Lanes]], bit: int) -> Lanes:
        contents = self._settling.whole.contents.get(self._chip)
        if contents is None:
            return UNKNOWN
        ones = zeros = 0
        at = address()
        for lane in range(self._settling.full.bit_length()):
            word = _word(contents, at, lane)
            if word is not None:
                ones |= (word >> bit & 1) << lane
                zeros |= (~word >> bit & 1) << lane
        return ones, zeros


def _word(contents: bytes, address: Sequence[Lanes], lane: int) -> int | None:
    """The word at the address of one lane, None where a bit of the address is unknown."""
    at = 0
    for bit, (ones, zeros) in enumerate(address):
        if not (ones | zeros) >> lane & 1:
            return None
        at |= (ones >> lane & 1) << bit
    return contents[at] if at < len(contents) else None
