"""Random netlists with everything that is hard: gates, registers, latches, clears, gated and rippled clocks, both
edges, three-state and two-way buses, open collectors with and without pull, keepers, series resistors, switches,
memories, loops, pulses, delays, several clocks. Also fights, floating nets and races: they are defined too.

``random_netlist(seed)`` always gives the same one. For tests of every engine.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import small_parts as parts
from building import Builder

from latchwork.engines.protocol import Simulation
from latchwork.netlist import Netlist
from latchwork.parts import Part, TieKind

GATES = (parts.AND, parts.NAND, parts.OR, parts.NOR, parts.XOR, parts.NOT, parts.CHOOSE)


class _Maker:
    def __init__(self, seed: int, size: int) -> None:
        self.random = Random(seed)
        self.builder = Builder(clock="clk")
        self.size = size
        self.nets = ["clk", "high", "low"]
        self.free: list[str] = []  # nets that may be read, and get their drivers later: loops
        self.count = 0

    def fresh(self) -> str:
        self.count += 1
        self.nets.append(f"n{self.count}")
        return self.nets[-1]

    def any(self) -> str:
        """A net to read; now and then one that has no driver yet, rarely one that never gets one."""
        chance = self.random.random()
        if chance < 0.08:
            self.free.append(self.fresh())
            return self.free[-1]
        if chance < 0.09:
            return self.fresh()
        return self.random.choice(self.nets[-24:] if chance < 0.8 else self.nets)

    def out(self) -> str:
        """A net to drive: one that waits for a driver, or a new one."""
        if self.free and self.random.random() < 0.5:
            return self.free.pop(self.random.randrange(len(self.free)))
        return self.fresh()

    def clock(self) -> str:
        """The clock, plain or gated, or any net: a rippled clock."""
        chance = self.random.random()
        if chance < 0.5:
            return "clk"
        if chance < 0.75:
            gated = self.fresh()
            self.builder.add(self.random.choice((parts.AND, parts.OR)), A="clk", B=self.any(), Y=gated)
            return gated
        return self.any()

    def rarely(self) -> str:
        """A level that is mostly 0: three nets and-ed."""
        if self.random.random() < 0.4:
            return "low"
        inner, net = self.fresh(), self.fresh()
        self.builder.add(parts.AND, A=self.any(), B=self.any(), Y=inner)
        self.builder.add(parts.AND, A=inner, B=self.any(), Y=net)
        return net

    def add(self, part: Part | str, parameters: dict[str, int] | None = None, **ports: str | list[str]) -> None:
        self.builder.add(part, "", parameters, **ports)

    def gate(self) -> None:
        self.add(self.random.choice(GATES), A=self.any(), B=self.any(), C=self.any(), Y=self.out())

    def flip_flop(self) -> None:
        self.add(parts.FLIP_FLOP, C=self.clock(), D=self.any(), R=self.rarely(), S=self.rarely(), Q=self.out())

    def both_edges(self) -> None:
        self.add(parts.BOTH_EDGES, C=self.clock(), D=self.any(), Q=self.out())

    def counter(self) -> None:
        outputs = [self.out() for _ in range(4)]
        self.add(parts.COUNTER, C=self.clock(), R=self.rarely(), T=self.any(), Q=outputs)

    def two_clocks(self) -> None:
        self.add(parts.TWO_CLOCKS, U=self.clock(), W=self.clock(), Q=[self.out() for _ in range(4)])

    def latch(self) -> None:
        self.add(parts.LATCH, E=self.clock(), D=self.any(), R=self.rarely(), Q=self.out())

    def bus(self) -> None:
        """Some drivers on one net, with or without something that holds it."""
        bus = self.out()
        for _ in range(self.random.randint(1, 3)):
            self.add(parts.THREE_STATE, A=self.any(), E=self.rarely(), Y=bus)
        self.held(bus)

    def held(self, net: str) -> None:
        match self.random.randrange(5):
            case 0:
                self.add("resistor", A=net, B=self.random.choice(("high", "low")))
            case 1:
                self.add("bus keeper", A=net)
            case 2:
                self.add("resistor", A=net, B=self.any())
            case 3:
                closed = {"closed": self.random.randint(0, 1)}
                self.add("switch", closed, A=net, B=self.any())

    def two_way(self) -> None:
        near, far = self.out(), self.out()
        self.add(parts.TWO_WAY, A=near, B=far, D=self.any(), E=self.any())
        self.add(parts.THREE_STATE, A=self.any(), E=self.rarely(), Y=near)
        self.add(parts.THREE_STATE, A=self.any(), E=self.rarely(), Y=far)
        self.held(near)
        self.held(far)

    def open_collectors(self) -> None:
        bus = self.out()
        for _ in range(self.random.randint(1, 3)):
            self.add(self.random.choice((parts.OPEN_COLLECTOR, parts.OPEN_AND)), A=self.any(), B=self.any(), Y=bus)
        self.held(bus)

    def cross_coupled(self) -> None:
        kind, one, other = self.random.choice((parts.NAND, parts.NOR)), self.out(), self.out()
        self.add(kind, A=self.any(), B=other, Y=one)
        self.add(kind, A=self.any(), B=one, Y=other)

    def memory(self) -> None:
        part = self.random.choice((parts.LEVEL_RAM, parts.CLOCKED_RAM, parts.KEEPING_RAM))
        data = [self.out(), self.out()]
        strobe = self.clock() if part is not parts.LEVEL_RAM else self.rarely()
        self.add(part, A=[self.any() for _ in range(3)], D=data, W=strobe, O=self.any())
        for net in data:
            self.add(parts.THREE_STATE, A=self.any(), E=strobe, Y=net)

    def element(self) -> None:
        if self.random.random() < 0.5:
            self.add("pulse", {"width": self.random.randrange(100, 3000, 100)}, IN=self.any(), OUT=self.out())
        else:
            self.add("delay", {"time": self.random.randrange(100, 3000, 100)}, IN=self.any(), OUT=self.out())

    def lopsided(self) -> None:
        """An input of the kind that reads high when open."""
        self.add(parts.TTL_BUFFER, A=self.any(), Y=self.out())

    def piece(self, make: Callable[[], None]) -> None:
        """One piece of circuit."""
        make()

    def make(self) -> Netlist:
        self.add("crystal oscillator", {"period": 1000}, OUT="clk")
        if self.random.random() < 0.4:
            self.nets.append("slow")
            self.add("oscillator", {"period": self.random.randrange(700, 5000, 100)}, OUT="slow")
        if self.random.random() < 0.7:
            self.nets.append("reset_n")
            self.add("reset supervisor", {"hold": self.random.randrange(800, 4000, 100)}, RESET_n="reset_n")
        kinds = (
            *(self.gate,) * 6, *(self.flip_flop,) * 5, self.both_edges, *(self.counter,) * 2, self.two_clocks,
            *(self.latch,) * 2, *(self.bus,) * 2, self.two_way, self.open_collectors, self.cross_coupled,
            self.memory, self.lopsided, self.element,
        )  # fmt: skip
        for _ in range(self.size):
            self.piece(self.random.choice(kinds))
        for net in self.free:
            self.add(parts.NOT, A=self.random.choice(self.nets), Y=net)
        return self.builder.netlist("random")


def random_netlist(seed: int, size: int = 24) -> Netlist:
    """About ``size`` pieces of circuit; the same for the same seed."""
    return _Maker(seed, size).make()


def stir(simulation: Simulation, number: int) -> None:
    """Put most registers, latches and memory cells at stated values and move some switches: afterwards much is
    known in the unknown reading, and some is not."""
    random, netlist = Random(number), simulation.netlist
    for chip in range(len(netlist.chips)):
        behaviour = netlist.part_of(chip).behaviour
        for state in (*behaviour.registers, *behaviour.latches):
            if random.random() < 0.8:
                simulation.set_state(chip, state.name, random.getrandbits(state.width))
        if behaviour.memories and random.random() < 0.7:
            simulation.write_memory(chip, bytes(random.getrandbits(2) for _ in range(random.randint(1, 8))))
        if behaviour.ties and behaviour.ties[0].kind is TieKind.SWITCH:
            simulation.set_switch(chip, random.random() < 0.5)


def contents_for(netlist: Netlist) -> dict[int, bytes]:
    """Something to hold for the memories that keep."""
    kept = [n for n in range(len(netlist.chips)) if any(m.keeps for m in netlist.part_of(n).behaviour.memories)]
    return {chip: bytes(Random(chip).randrange(4) for _ in range(8)) for chip in kept}
