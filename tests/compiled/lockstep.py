"""Two engines side by side: the oracle and compiled code, compared after every tick."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.compiled.hot_clocks import Heat
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Simulation
from latchwork.netlist import Netlist


class Lockstep:
    """Does everything to both, and says what differs."""

    def __init__(
        self,
        netlist: Netlist,
        contents: Mapping[int, bytes] | None = None,
        seed: int = 0,
        heat: Heat | None = None,
    ) -> None:
        self.netlist = netlist
        self.oracle = Oracle(netlist, contents, seed)
        self.compiled = CompiledEngine(netlist, contents, seed, heat=heat)
        self.both: tuple[Simulation, Simulation] = (self.oracle, self.compiled)

    def tick(self) -> None:
        assert self.oracle.tick() == self.compiled.tick()
        self.compare()

    def to_time(self, time: int) -> None:
        """Over all events up to and including a time."""
        while self.oracle.next_time is not None and self.oracle.next_time <= time:
            self.tick()

    def run(self, clocks: int) -> None:
        assert self.oracle.run(clocks) == self.compiled.run(clocks)
        self.compare()

    def compare(self) -> None:
        """All nets, counts, incidents. AssertionError names what differs."""
        one, other = self.both
        place = f"tick {one.ticks}"
        assert (one.ticks, one.clocks, one.time_ps, one.next_time) == (
            other.ticks, other.clocks, other.time_ps, other.next_time,
        )  # fmt: skip
        nets = range(len(self.netlist.nets))
        differing = {self.netlist.nets[net].name: (a.name, b.name) for net in nets
                     if (a := one.value(net)) is not (b := other.value(net))}  # fmt: skip
        assert differing == {}, f"{place}: oracle and compiled differ: {differing}"
        assert list(one.incidents) == list(other.incidents), place

    def compare_states(self) -> None:
        """All registers, latches, memories, and what was read early."""
        for chip in range(len(self.netlist.chips)):
            behaviour = self.netlist.part_of(chip).behaviour
            for state in (*behaviour.registers, *behaviour.latches, *behaviour.timers):
                assert self.oracle.state(chip, state.name) == self.compiled.state(chip, state.name)
            for memory in behaviour.memories:
                assert list(self.oracle.memory(chip, memory.name)) == list(self.compiled.memory(chip, memory.name))
        assert self.oracle.power_up_reads() == self.compiled.power_up_reads()
