"""Machines with faults, many at once, beside the machine without one.

Each is equal, tick by tick, to an engine of its own on the edited netlist, as far as levels and states go; incidents
are not reported. What lanes cannot do, such as a loop that stays open, an engine of its own does, from power-up on.
All see the same events: what a hand does is done to all.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from latchwork.engines.compiled.lanes.alone import Alone, Trace
from latchwork.engines.compiled.lanes.block import Block, table
from latchwork.engines.compiled.lanes.building import Builder
from latchwork.engines.compiled.lanes.clockwork import Clockwork, Tick
from latchwork.engines.compiled.lanes.differences import Difference, Nets
from latchwork.engines.compiled.lanes.native import LANES
from latchwork.engines.compiled.lanes.packing import packed
from latchwork.engines.protocol import Value
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.parts import Part

THREADS = 2
"""Blocks that run at one time."""

PIECE = 256
"""Ticks after which lanes are put together anew for the first time; each further piece is longer."""

HEALTHY = -1
"""The number that stands for the machine without a fault."""


@dataclass
class _Members:
    """A block and the number of the fault of each of its lanes."""

    block: Block
    faults: list[int] = field(default_factory=list)


class FaultyMachines:
    """Machines under power, at tick 0. Faults are known by their number; -1 is the machine without one.

    ``faults``: the edited netlists. ``watch``: nets that a machine is compared by at the end of each tick with the
    machine without a fault; one that a bridge joined to another is looked at there. ``shown``: nets that ``value`` can
    be asked for, those watched if left out. ``drop``: a machine that is seen to differ goes no further.

    Raises LatchworkError like an engine, NotCompilable where the machine has a timer that a net starts, ValueError
    where a fault is no edit of ``netlist``.
    """

    def __init__(
        self,
        netlist: Netlist,
        faults: Sequence[Netlist],
        contents: Mapping[ChipId, bytes] | None = None,
        seed: int = 0,
        *,
        watch: Sequence[NetId] = (),
        shown: Sequence[NetId] | None = None,
        drop: bool = False,
    ) -> None:
        self.netlist = netlist
        self.faults = tuple(faults)
        self._contents = dict(contents or {})
        self._seed = seed
        self._drop = drop
        self._nets = Nets(netlist)
        self._builder = Builder(self._nets, self._contents, seed, watch, watch if shown is None else shown)
        self._differences = [self._nets.difference(faulty) for faulty in self.faults]
        self._clockwork = Clockwork(netlist)
        self._ticks = [Tick()]
        self._trace: Trace | None = None
        self._alone: dict[int, Alone] = {}
        self._seen: dict[int, int] = {}  # faults that went no further, with the tick
        self._blocks: list[_Members] = []
        fit = [number for number in range(len(self.faults)) if self._fits(number)]
        for number in sorted(set(range(len(self.faults))) - set(fit)):
            self._leave(number)
        self._put_together(fit)

    @property
    def ticks(self) -> int:
        """Number of the last tick."""
        return len(self._ticks) - 1

    @property
    def alone(self) -> Sequence[int]:
        """The faults whose machines have an engine of their own."""
        return sorted(self._alone)

    @property
    def machine_ticks(self) -> int:
        """The ticks of all machines with faults together; one that went no further counts until then."""
        ends = (self.first_difference(number) if self._drop else None for number in range(len(self.faults)))
        return sum(self.ticks if end is None else end for end in ends)

    # Putting lanes together

    def _fits(self, number: int) -> bool:
        """Whether a machine can be a lane: time goes by alike in all lanes."""
        for chip, placed in self._differences[number].chips.items():
            base = self._nets.base[chip].part
            if placed.part is not base and (placed.part.behaviour.timers or base.behaviour.timers):
                return False
        return True

    def _put_together(self, faults: Sequence[int]) -> None:
        """New blocks for these faults, brought to the last tick."""
        self._blocks = []
        for places in packed(self._nets, [self._differences[number] for number in faults], LANES - 1):
            members = [faults[place] for place in places]
            block = self._builder.block([self._differences[number] for number in members], drop=self._drop)
            self._blocks.append(_Members(block, [HEALTHY, *members]))
        self._run(self._ticks)

    def _close_up(self) -> None:
        """Fewer blocks, where the machines that still go on fit in them."""
        going = []
        for each in self._blocks:
            for lane, fault in enumerate(each.faults[1:], 1):
                seen = each.block.first_seen(lane)
                if seen is not None:
                    self._seen[fault] = seen
                elif fault not in self._alone:
                    going.append(fault)
        if len(going) <= (LANES - 1) * (len(self._blocks) - 1) * 3 // 4:
            self._put_together(going)

    def _leave(self, number: int, blind: int = -1) -> Alone:
        """Give a machine an engine of its own, which is to catch up; up to a tick it was compared as a lane."""
        netlist = self.netlist if number == HEALTHY else self.faults[number]
        difference = self._difference(number)
        watch = [self._builder.moved(net, difference) for net in self._builder.watch]
        self._alone[number] = Alone(netlist, self._contents, self._seed, watch, blind=blind)
        return self._alone[number]

    # Running

    def run(self, ticks: int) -> int:
        """So many ticks, or fewer where nothing will ever happen again; how many."""
        coming: list[Tick] = []
        while len(coming) < ticks and (tick := self._clockwork.next()) is not None:
            coming.append(tick)
        done, piece = 0, PIECE
        while done < len(coming):
            if self._drop and len(coming) - done > self.ticks >= PIECE:
                self._close_up()
            piece = max(piece, self.ticks)
            self._go_on(coming[done : done + piece])
            done += piece
        return len(coming)

    def set_hand(self, chip: ChipId, level: int) -> None:
        """Set the output of a hand-operated source in all machines; one tick. KeyError where the chip is none."""
        self._go_on([self._clockwork.by_hand(chip, level)])

    def _go_on(self, ticks: Sequence[Tick]) -> None:
        self._ticks.extend(ticks)
        self._run(ticks)

    def _run(self, ticks: Sequence[Tick]) -> None:
        going = [each.block for each in self._blocks if each is self._blocks[0] or not each.block.is_over]
        with ThreadPoolExecutor(THREADS) as threads:
            list(threads.map(lambda block: _run_block(block, ticks), going))
        for each in self._blocks:
            self._leave_lanes(each, self.ticks - len(ticks))
        for fault in self.alone:
            self._run_alone(fault)

    def _leave_lanes(self, members: _Members, before: int) -> None:
        """Give engines of their own to lanes that can't go on; until tick ``before`` all went well. Where that is the
        machine without a fault, lanes have been compared with nothing since, so that all of them leave."""
        left = members.block.left
        for lane, fault in enumerate(members.faults if left else ()):
            if (left >> lane | left) & 1 and fault not in self._alone:
                first = members.block.first_seen(lane)
                alone = self._leave(fault, before)
                if first is not None and (first <= before or not left & 1):
                    alone.first = first

    def _run_alone(self, fault: int) -> None:
        """On to the last tick, or to the one in which the machine differs."""
        alone = self._alone[fault]
        if alone.ticks == 0:
            self._compare(alone)
        while alone.ticks < self.ticks and not (self._drop and alone.first is not None):
            alone.step(self._ticks[alone.ticks + 1])
            self._compare(alone)

    def _compare(self, alone: Alone) -> None:
        """Whether it now differs for the first time."""
        if alone.first is None and alone.ticks > alone.blind and alone.now() != self._healthy(alone.ticks):
            alone.first = alone.ticks

    def _healthy(self, tick: int) -> list[Value]:
        if self._trace is None:
            self._trace = Trace(Alone(self.netlist, self._contents, self._seed, self._builder.watch))
        return self._trace.at(tick, self._ticks)

    # Looking

    def value(self, fault: int, net: NetId) -> Value:
        """What a net of a machine carries. KeyError where it was not to be shown, or the machine went no further."""
        if fault in self._alone:
            return self._alone[fault].value(net)
        block, lane = self._where(fault)
        return block.value(self._difference(fault).group.get(net, net), lane)

    def state(self, fault: int, chip: ChipId, name: str) -> int:
        """A register, latch or timer of a chip."""
        if fault in self._alone:
            return self._alone[fault].state(chip, name)
        block, lane = self._where(fault)
        return block.state(chip, id(self._part(fault, chip)), name, lane)

    def cell(self, fault: int, chip: ChipId, address: int, name: str = "") -> int:
        """A cell of a memory of a chip, the first where no name is given."""
        if fault in self._alone:
            return self._alone[fault].cell(chip, address, name)
        block, lane = self._where(fault)
        part = self._part(fault, chip)
        memory = next(each for each in part.behaviour.memories if name in ("", each.name))
        return block.cell((chip, id(part), memory.name), address, lane)

    def first_difference(self, fault: int) -> int | None:
        """The tick at whose end a watched net first differed from the machine without a fault; None if none did."""
        if fault in self._alone:
            return self._alone[fault].first
        if fault in self._seen:
            return self._seen[fault]
        block, lane = self._where(fault)
        return block.first_seen(lane)

    def _where(self, fault: int) -> tuple[Block, int]:
        for each in self._blocks:
            if fault in each.faults:
                return each.block, each.faults.index(fault)
        raise KeyError(f"the machine with fault {fault} went no further")

    def _difference(self, fault: int) -> Difference:
        return self._nets.none if fault == HEALTHY else self._differences[fault]

    def _part(self, fault: int, chip: ChipId) -> Part:
        placed = self._difference(fault).chips.get(chip)
        return (placed or self._nets.base[chip]).part


def _run_block(block: Block, ticks: Sequence[Tick]) -> None:
    starts, events = [0], []
    for tick in ticks:
        for turn in tick.turns:
            for where in block.places(turn.chip, turn.name):
                events += [where, -turn.level & (2**64 - 1)]
        starts.append(len(events) // 2)
    block.run(len(ticks), table(starts), table(events))
