"""The same machine with the address and data wires of its ROMs joined in another order, and images to match.

For use over any machine folder: ``Machine.read(folder, program)``, then ``rewired(machine, seed)``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

from latchwork.engines.oracle import Oracle
from latchwork.languages.microprogram.flat import FlatProgram
from latchwork.languages.microprogram.lowering import lower
from latchwork.languages.microprogram.parse import parse_microprogram
from latchwork.load.machine import read_machine
from latchwork.load.model import names_of
from latchwork.load.program import assemble_program
from latchwork.model import ControlProgram, Model, Statements
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.queries import memory_pins


@dataclass(frozen=True)
class Machine:
    """A machine with a microprogram and a program; ``tables``: bytes of table ROMs and of loaded images."""

    folder: Path
    netlist: Netlist
    statements: Statements
    microprogram: FlatProgram
    program: Path
    tables: dict[ChipId, bytes]

    @classmethod
    def read(cls, folder: Path, program: Path) -> Machine:
        machine = read_machine(folder)
        binding = machine.statements.microprogram
        assert binding is not None
        flat = parse_microprogram(folder / binding.source, names_of(machine))
        return cls(folder, machine.netlist, machine.statements, flat, program, dict(machine.contents))

    def control(self) -> ControlProgram:
        assert self.statements.microprogram is not None
        return lower(self.microprogram, self.netlist, self.statements.microprogram)

    def contents(self) -> dict[ChipId, bytes]:
        """What every ROM holds, the program included."""
        control = self.control()
        model = Model(self.folder, self.netlist, self.statements, control, {**self.tables, **dict(control.contents)})
        return model.with_contents(assemble_program(model, self.program).contents).contents

    def roms(self) -> list[ChipId]:
        """Chips whose memory outlives power."""
        chips = range(len(self.netlist.chips))
        return [chip for chip in chips if any(memory.keeps for memory in self.netlist.part_of(chip).behaviour.memories)]


def rewired(machine: Machine, seed: int) -> Machine:
    """The machine with the wires of all its ROMs in another order; tables hold the same at the places that moved."""
    random = Random(seed)
    tables = dict(machine.tables)
    chips = list(machine.netlist.chips)
    for chip in machine.roms():
        found = memory_pins(machine.netlist.part_of(chip))
        assert found is not None
        pins = list(chips[chip].pins)
        orders = [shuffled(random, len(group)) for group in (found.address, found.data)]
        for group, order in zip((found.address, found.data), orders, strict=True):
            for place, pin in enumerate(group):
                pins[pin] = chips[chip].pins[group[order[place]]]
        chips[chip] = replace(chips[chip], pins=tuple(pins))
        if chip in tables:
            tables[chip] = moved(tables[chip], *orders)
    return replace(machine, netlist=replace(machine.netlist, chips=tuple(chips)), tables=tables)


def shuffled(random: Random, count: int) -> list[int]:
    order = list(range(count))
    random.shuffle(order)
    return order


def moved(content: bytes, address: list[int], data: list[int]) -> bytes:
    """The bytes of a ROM whose pin ``i`` has the wire that pin ``order[i]`` had."""
    result = bytearray(len(content))
    for cell in range(len(content)):
        old = sum((cell >> place & 1) << pin for place, pin in enumerate(address))
        result[cell] = sum((content[old] >> pin & 1) << place for place, pin in enumerate(data))
    return bytes(result)


def behaviour(machine: Machine, contents: dict[ChipId, bytes], clocks: int) -> list[tuple[int, ...]]:
    """The levels of all nets that a person named, clock after clock, until the machine has halted."""
    oracle = Oracle(machine.netlist, contents)
    nets = [net for net, item in enumerate(machine.netlist.nets) if item.declared]
    halts = machine.statements.halts
    seen: list[tuple[int, ...]] = []
    for _ in range(clocks):
        oracle.run(1)
        seen.append(tuple(int(oracle.value(net)) for net in nets))
        if len(seen) > 10 and any(oracle.value(halt.net) == halt.level for halt in halts):
            break
    return seen


def named_nets(netlist: Netlist) -> list[NetId]:
    return [net for net, item in enumerate(netlist.nets) if item.declared]
