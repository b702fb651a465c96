"""Programmed devices in machines: both engines against a reading of the fuses that shares nothing with them.

The other reading (burned.py) follows the logic diagrams of the data sheets GAL16V8, GAL20V8 and GAL22V10 (Lattice
Semiconductor), from memory.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from burned import Burned, random_fuses

from latchwork import LOW, Machine, pull_up
from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Simulation
from latchwork.fuses.file import FuseFile, written
from latchwork.load.machine import read_machine
from latchwork.netlist import Netlist
from latchwork.netlist.verify_part import verify_part
from latchwork.problems import LatchworkError

SETTINGS = [("16V8", "10"), ("16V8", "11"), ("16V8", "01"), ("20V8", "10"), ("20V8", "11"), ("20V8", "01")]
SETTINGS += [("22V10", "")]


def machine_of(kind: str, file: Path, outputs: list[int]) -> Netlist:
    """A machine of one device with a net ``pin2`` at each pin."""
    m = Machine("bench")
    count = 20 if kind == "16V8" else 24
    nets = {}
    for pin in range(1, count):
        if pin != count // 2:
            name = f"{'IO' if pin in outputs else 'I'}{pin}"
            nets[name] = m.net(f"pin{pin}", idle=pull_up("10k"))
    m.chip(f"GAL{kind}", label="device", fuses=str(file), **nets)
    return m.netlist()


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize(("kind", "setting"), SETTINGS)
def test_engines_follow_the_fuses(kind: str, setting: str, seed: int, tmp_path: Path) -> None:
    random = Random(f"{kind} {setting} {seed}")
    fuses = random_fuses(kind, setting, random)
    file = tmp_path / "random.jed"
    file.write_bytes(written(FuseFile(fuses)).encode("latin-1"))
    burned = Burned(kind, fuses)
    netlist = machine_of(kind, file, burned.outputs)
    index = {net.name: number for number, net in enumerate(netlist.nets)}
    inputs = [pin for pin in range(2, 24) if f"pin{pin}" in index and pin not in burned.driven()]
    engines: list[Simulation] = [Oracle(netlist), CompiledEngine(netlist)]
    chip = next(number for number, each in enumerate(netlist.chips) if netlist.part_of(number).fuses)
    states = netlist.part_of(chip).behaviour.registers
    assert {f"held_{pin}" for pin in burned.registers()} == {state.name for state in states}
    for engine in engines:
        engine.force(index["pin1"], 0)
        assert {engine.state(chip, state.name) for state in states} <= {0}, "reset at power-up"
    seen = set()
    for _ in range(40):
        levels = {1: 0} | {pin: random.getrandbits(1) for pin in inputs}
        for engine in engines:
            engine.force_all({index[f"pin{pin}"]: level for pin, level in levels.items()})
        seen.add(compare(burned, levels, engines, index))
        for engine in engines:
            engine.force(index["pin1"], 1)
        burned.edge(levels)
        seen.add(compare(burned, levels | {1: 1}, engines, index))
        for engine in engines:
            engine.force(index["pin1"], 0)
    assert len(seen) > 8, "the fuses do something"


def compare(
    burned: Burned, levels: dict[int, int], engines: list[Simulation], index: dict[str, int]
) -> tuple[int, ...]:
    should = burned.settled(levels)
    shown = burned.outputs
    for engine in engines:
        assert {pin: int(engine.value(index[f"pin{pin}"])) for pin in shown} == {pin: should[pin] for pin in shown}
    return tuple(should[pin] for pin in shown)


COUNTER = """
device 22V10
pins
    clock 1
    clear run 2 3
    a15 a14 a13 4 5 6
    read 7
    c2 c1 c0 23 22 21
    rom_show_n ram_show_n 20 19
    bus 18
groups
    page = a15 a14 a13
logic
    c0 takes c0 xor run
    c1 takes c1 xor (c0 and run)
    c2 takes c2 xor (c1 and c0 and run)
    reset when clear
    rom_show_n = not (read and page < 3)
    ram_show_n = not (read and page >= 3 and page != 7)
    bus = c2 when run and not read
"""


def test_a_counter_and_a_decoder_in_one_device(tmp_path: Path) -> None:
    (tmp_path / "both.logic").write_text(COUNTER)
    m = Machine("bench")
    names = ("clock", "clear", "run", "a15", "a14", "a13", "read")
    nets = {name: m.net(name) for name in names}
    bus = m.net("bus", idle=pull_up("10k"))
    chip = m.chip("GAL22V10", logic=str(tmp_path / "both.logic"), bus=bus, **nets)
    outputs = {name: chip[name] for name in ("c2", "c1", "c0", "rom_show_n", "ram_show_n")}
    netlist = m.netlist()
    for engine in (Oracle(netlist), CompiledEngine(netlist)):
        level = lambda name: int(engine.value(outputs[name].index))  # noqa: B023, E731
        engine.force_all({net.index: 0 for net in nets.values()})
        engine.force(nets["clear"].index, 1)
        assert [level(name) for name in ("c2", "c1", "c0")] == [0, 0, 0]
        engine.force_all({nets["clear"].index: 0, nets["run"].index: 1})
        for count in range(1, 20):
            engine.force(nets["clock"].index, 1)
            engine.force(nets["clock"].index, 0)
            assert 4 * level("c2") + 2 * level("c1") + level("c0") == count % 8
            assert int(engine.value(bus.index)) == count % 8 // 4
        engine.force(nets["run"].index, 0)
        assert int(engine.value(bus.index)) == 1
        for page in range(8):
            for read in (0, 1):
                pins = {"a15": page >> 2, "a14": page >> 1 & 1, "a13": page & 1, "read": read}
                engine.force_all({nets[name].index: value for name, value in pins.items()})
                assert level("rom_show_n") == (not (read and page < 3))
                assert level("ram_show_n") == (not (read and 3 <= page < 7))


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ({"logic": "both.logic"}, "both.logic: F112 this is logic for a 22V10, and the chip is a GAL16V8 "
         "(name the file of this chip)"),
        ({"fuses": "short.jed"}, "short.jed: F112 this file has 8 fuses, and a GAL16V8 has 2194 "
         "(name the file of this chip)"),
        ({"fuses": "none.jed"}, "none.jed: F113 fuse 2192 (SYN) is 0 and fuse 2193 (AC0) is 0, which sets no mode "
         "(SYN and AC0 are 10 (simple), 11 (complex) or 01 (registered))"),
    ],
)  # fmt: skip
def test_what_cannot_be_burned_is_said(
    given: dict[str, str], message: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "both.logic").write_text(COUNTER)
    (tmp_path / "short.jed").write_text("\x02*QF8*F0*\x03")
    (tmp_path / "none.jed").write_text("\x02*QF2194*F0*\x03")
    monkeypatch.chdir(tmp_path)
    call = ", ".join(f'{name}="{value}"' for name, value in given.items())
    Path("machine.py").write_text(f'from latchwork import Machine\nm = Machine("wren")\nm.chip("GAL16V8", {call})\n')
    with pytest.raises(LatchworkError) as caught:
        read_machine(".")
    assert str(caught.value) == message


def test_the_signature_and_a_file_without_it(tmp_path: Path) -> None:
    """Files of a 22V10 with 5828 fuses lack the signature; the rest is the same."""
    fuses = random_fuses("22V10", "", Random(1))
    parts = []
    for size in (5892, 5828):
        (tmp_path / "same.jed").write_text(written(FuseFile(fuses[:size])), newline="")
        m = Machine("bench")
        m.chip("GAL22V10", fuses=str(tmp_path / "same.jed"))
        (part,) = m.netlist().parts
        parts.append(part.behaviour)
    assert parts[0] == parts[1]


def test_a_flip_flop_is_reset_at_power_up_in_the_unknown_reading_too(tmp_path: Path) -> None:
    """POWER-ON RESET OF REGISTERS is on the first page of the data sheet GAL22V10 (Lattice Semiconductor)."""
    (tmp_path / "both.logic").write_text(COUNTER)
    m = Machine("bench")
    chip = m.chip("GAL22V10", logic=str(tmp_path / "both.logic"), clear=LOW, clock=LOW)
    count = [chip.c0, chip.c1, chip.c2]
    oracle = Oracle(m.netlist(), unknown=True)
    assert oracle.read(net.index for net in count) == 0


def test_a_register_can_t_wake_up_with_more_than_it_holds(tmp_path: Path) -> None:
    (tmp_path / "both.logic").write_text(COUNTER)
    m = Machine("bench")
    m.chip("GAL22V10", logic=str(tmp_path / "both.logic"))
    (part,) = m.netlist().parts
    first, *others = part.behaviour.registers
    wrong = replace(part, behaviour=replace(part.behaviour, registers=(replace(first, wakes=2), *others)))
    (problem,) = verify_part(wrong)
    assert problem.message == ('GAL22V10 both: the register "held_23" wakes up with 2 and has a width of 1')
