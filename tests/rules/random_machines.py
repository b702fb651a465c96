"""Random small machines with nothing to find, and mistakes that can be made in each of them.

A counter and a decoder choose who shows a bus and which register takes it; a memory is written in the second half of
the clock; some registers have lamps. What there is, how much of it, and what hangs where is drawn by lot.
"""

from __future__ import annotations

import random
from pathlib import Path

from latchwork import HIGH, LOW, OPEN, Machine, pull_up
from latchwork.design import Net
from latchwork.model import Model

MISTAKES = {
    "": set(),
    "floating input": {"W101"},
    "undriven net": {"W103"},
    "overload": {"W301"},
    "lamp without resistor": {"W303"},
    "TTL into HC": {"W302"},
    "part for another supply": {"W304"},
    "unblanked write strobe": {"W305"},
    "missing pull-up": {"W105"},
    "outputs joined": {"W108"},
    "supply pin forgotten": {"W106"},
}
"""Each with the codes of what has to be found, and nothing else."""


def machine(seed: int, mistake: str) -> Model:
    """The random machine of a seed, with one mistake."""
    return _Drawn(seed, mistake).model()


class _Drawn:
    def __init__(self, seed: int, mistake: str) -> None:
        self.chance, self.mistake = random.Random(seed), mistake
        self.m = m = Machine(f"lot{seed}", family=self.chance.choice(["HCT", "ACT"]), supply=5.0)
        self.clock = m.clock(1_000_000)
        self.data = m.bus("data", 8, idle=pull_up("10k"))
        self.turn = m.bus("turn", 3)
        m.chip("161", label="turns", CLK=self.clock, CLR_n=HIGH, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH,
               Q=[*self.turn, OPEN], RCO=OPEN)  # fmt: skip
        self.registers = self.chance.randint(1, 3)
        shown = self.chance.sample(range(8), self.registers + 1)
        self.show = [m.net(f"show{number}_n") for number in range(self.registers + 1)]
        outputs = [OPEN] * 8
        for place, net in zip(shown, self.show, strict=True):
            outputs[place] = net
        m.chip("138", label="show", S=self.turn, G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=outputs)

    def model(self) -> Model:
        for number in range(self.registers):
            self._register(number)
        self._memory()
        self._requests()
        self._gates()
        return Model(Path(), self.m.netlist())

    def _register(self, number: int) -> None:
        m, first = self.m, number == 0
        held = m.bus(f"held{number}", 8)
        low = first and self.mistake == "overload"
        extra = {"GND": self.clock} if first and self.mistake == "supply pin forgotten" else {}
        if not (first and self.mistake == "floating input"):
            extra["G_n"] = LOW
        m.chip("74LS377" if low else "377", label=f"register{number}", CLK=self.clock, D=self.data, Q=held, **extra)
        part = "74LVC541" if first and self.mistake == "part for another supply" else "541"
        m.chip(part, label=f"shown{number}", A=held, Y=self.data, G1_n=self.show[number], G2_n=LOW)
        if low or self.chance.random() < 0.5:
            m.lamps(held, colour=self.chance.choice(["red", "green", "amber"]))
        if first and self.mistake == "lamp without resistor":
            m.lamp(held[3], resistor=None)
        if first and self.mistake == "outputs joined":
            m.gate("inverter", held[1], out=held[0])

    def _memory(self) -> None:
        m = self.m
        gated_n = m.gate("or", self.turn[self.chance.randrange(3)], self.show[-1])
        write_n = m.gate("or", gated_n, self.clock)
        show_n = m.gate("inverter", gated_n)
        address = [*self.turn, *[LOW] * 8]
        self.chance.shuffle(address)
        wrong = self.mistake == "unblanked write strobe"
        m.chip("6116", label="memory", A=address, D=self.data, CE_n=self.show[-1], OE_n=show_n,
               WE_n=gated_n if wrong else write_n)  # fmt: skip

    def _requests(self) -> None:
        """Open collectors that share a net, and something that listens."""
        m = self.m
        idle = None if self.mistake == "missing pull-up" else pull_up("4.7k")
        request_n = m.net("request_n", idle=idle)
        for number in range(self.chance.randint(1, 2)):
            bit = self.turn[self.chance.randrange(3)]
            m.chip("74LS05", label=f"request{number}", A=[bit, *[LOW] * 5], Y=[request_n, *[OPEN] * 5])
        heard = m.gate("inverter", request_n)
        self._kept("175", "heard", heard)

    def _gates(self) -> None:
        m = self.m
        ttl = self.mistake == "TTL into HC"
        last = m.net("forgotten") if self.mistake == "undriven net" else self.turn[0]
        for _ in range(self.chance.randint(1, 6)):
            last = m.gate(
                self.chance.choice(["and", "or", "nand", "xor"]), last, self.turn[self.chance.randrange(1, 3)]
            )
        y = m.net("y")
        m.chip("74LS04", label="last", A=[last, *[LOW] * 5], Y=[y, *[OPEN] * 5])
        self._kept("74HC175" if ttl else "175", "kept", y)

    def _kept(self, part: str, label: str, net: Net) -> None:
        """A register that listens to a net, and shows it to nobody."""
        self.m.chip(
            part, label=label, CLK=self.clock, CLR_n=HIGH, D=[net, LOW, LOW, LOW], Q=[OPEN] * 4, Q_n=[OPEN] * 4
        )  # fmt: skip
