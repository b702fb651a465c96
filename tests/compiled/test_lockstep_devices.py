"""Devices on compiled code beside devices on the oracle: ticks, nets, what they say, what they remember."""

from __future__ import annotations

import random
from collections.abc import Sequence
from pathlib import Path

import pytest
from building import Builder
from lockstep import Lockstep
from talking_machine import MACHINE

from latchwork.devices import Bench, Device, Edge, Output, Watch
from latchwork.devices.made import made
from latchwork.load.model import load_model
from latchwork.netlist import NetId, Netlist
from latchwork.parts import OutputKind

KINDS = (OutputKind.PUSH_PULL, OutputKind.THREE_STATE, OutputKind.OPEN_COLLECTOR)


def attach(lockstep: Lockstep, make: list[Device], twin: list[Device]) -> list[list[tuple[str, bytes]]]:
    """Each engine gets devices of its own; what they say."""
    said: list[list[tuple[str, bytes]]] = [[], []]
    for engine, devices, heard in zip(lockstep.both, (make, twin), said, strict=True):
        engine.hear(lambda name, data, heard=heard: heard.append((name, data)))
        for device in devices:
            engine.attach(device)
    lockstep.compare()
    return said


@pytest.mark.parametrize("seed", range(4))
def test_a_serial_port_and_a_panel(tmp_path: Path, seed: int) -> None:
    (tmp_path / "machine.py").write_text(MACHINE)
    model = load_model(tmp_path)
    lockstep = Lockstep(model.netlist, seed=seed)
    lockstep.compiled.worth_it = 1
    pairs = [[made(stated) for stated in model.statements.devices] for _ in range(2)]
    said = attach(lockstep, *pairs)
    rng = random.Random(seed)
    for _ in range(30):
        if rng.random() < 0.6:
            data = rng.randbytes(rng.randrange(1, 4))
            for engine in lockstep.both:
                engine.send("line", data)
        if rng.random() < 0.3:
            word = f"run={rng.randrange(2)}".encode()
            for engine in lockstep.both:
                engine.send("panel", word)
        if rng.random() < 0.5:
            lockstep.run(rng.randrange(1, 300))
        else:
            for _ in range(rng.randrange(20)):
                lockstep.tick()
    lockstep.compare_states()
    assert said[0] == said[1]
    assert len(said[0]) > 10
    assert lockstep.compiled.native_ticks > 20 * lockstep.compiled.oracle_ticks


class Restless(Device):
    """Drives its nets at random, and asks to be called at random, by what it has seen so far."""

    kept = ("seen", "calls")

    def __init__(self, name: str, watches: Sequence[Watch], outputs: Sequence[Output]) -> None:
        super().__init__(name, watches, outputs)

    def start(self, bench: Bench) -> None:
        self.seen, self.calls = hash_of(self.name.encode()), 0
        bench.wake(700_000)

    def changed(self, bench: Bench, nets: Sequence[NetId]) -> None:
        self._go_on(bench, [bench.level(net) for net in nets])

    def woken(self, bench: Bench) -> None:
        self._go_on(bench, [])
        bench.wake(1_300_000 + self.seen % 5_000_000)

    def _go_on(self, bench: Bench, levels: list[int | None]) -> None:
        self.calls += 1
        self.seen = hash_of(repr((self.seen, levels, bench.time_ps)).encode())
        bench.emit(self.seen.to_bytes(4, "big"))
        for number, output in enumerate(self.outputs):
            choice = self.seen >> 2 * number & 3
            level = choice & 1 if choice < 2 else None
            if output.kind is OutputKind.PUSH_PULL or (output.kind is OutputKind.OPEN_COLLECTOR and level):
                level = 0 if choice else (1 if output.kind is OutputKind.PUSH_PULL else None)
            bench.drive([output.net], level, after=50_000 * (self.seen >> 28 & 1))


def hash_of(data: bytes) -> int:
    """Thirty-two bits that hang on all of the data."""
    value = 2166136261
    for byte in data:
        value = (value ^ byte) * 16777619 & 0xFFFFFFFF
    return value ^ value >> 15


def counters() -> Netlist:
    """Two counters; four nets each that chips read, and that devices may drive, some of them with a pull."""
    b = Builder(clock="clock")
    b.add("oscillator", parameters={"period": 1_000_000}, OUT="clock")
    for bit, level in enumerate(("high", "low", "high")):
        b.pull(f"in[{bit}]", level)
    b.add("bus keeper", A="in[3]")
    b.add("74HCT161", CLK="clock", CLR_n="high", LOAD_n="in[0]", ENP="in[1]", ENT="high", P=b.bus("in", 4),
          Q=b.bus("low", 4), RCO="carry")  # fmt: skip
    b.add("74HCT161", CLK="clock", CLR_n="in[2]", LOAD_n="high", ENP="carry", ENT="carry", P=["low"] * 4,
          Q=b.bus("high", 4), RCO="end")  # fmt: skip
    return b.netlist()


def restless(net: dict[str, NetId], rng: random.Random) -> list[Device]:
    edges = list(Edge)
    watched = ["low[3]", "high[0]", "high[1]", "carry", "in[1]", "in[3]"]
    devices: list[Device] = []
    for name in ("one", "other"):
        watches = [
            Watch(net[each], rng.choice(edges), ((net["low[0]"], rng.randrange(2)),) if rng.random() < 0.5 else ())
            for each in rng.sample(watched, 2)
        ]
        free = range(4) if name == "one" else (0, 2)
        outputs = [Output(net[f"in[{n}]"], rng.choice(KINDS[1:])) for n in free]
        devices.append(Restless(name, watches, outputs))
    return devices


@pytest.mark.parametrize("seed", [*range(12), 20])
def test_devices_that_drive_at_random(seed: int) -> None:
    netlist = counters()
    lockstep = Lockstep(netlist, seed=seed)
    lockstep.compiled.worth_it = 1
    pairs = [restless(netlist.net_named, random.Random(seed)) for _ in range(2)]
    said = attach(lockstep, *pairs)
    rng = random.Random(seed)
    for _ in range(60):
        if rng.random() < 0.5:
            lockstep.run(rng.randrange(1, 200))
        else:
            for _ in range(rng.randrange(10)):
                lockstep.tick()
    lockstep.compare_states()
    assert said[0] == said[1]
    assert said[0]
