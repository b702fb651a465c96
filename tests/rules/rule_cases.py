"""Cases of rules: a small machine, control words where it has some, and the full text of what the rule says.

A file cases/W101.txt holds blocks: ``== title``, the machine below ``HEAD``, then ``-- rows`` and ``-- opcodes`` in a
machine with a microprogram, and ``-- says`` with the problems of that code alone, or "nothing".

Rows are written by hand, so that the cases do not hang on the microprogram language::

    add r | 2 | carry=1 | acc_show_n=0 take_code[1]=1

is step 2 of `add r` while carry is 1; nets at data pins of the store that are not named stand at rest where they are
lines, else low; a net behind a register of the type 273 stands for the one before it. The row stands at every address
that its step, its conditions and the opcodes of its block allow.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product
from pathlib import Path

from latchwork.base.position import Position
from latchwork.load.machine import LoadedMachine, read_machine
from latchwork.model import ControlProgram, Model, Row
from latchwork.netlist import NetId, Netlist
from latchwork.netlist.queries import memory_pins

HEAD = """from latchwork import HIGH, LOW, OPEN, Machine, keeper, pull_down, pull_up

m = Machine("wren", family="HCT")
"""
FOLDER = Path(__file__).parent / "cases"


@dataclass
class RuleCase:
    code: str
    title: str
    parts: dict[str, str] = field(default_factory=dict)

    def model(self, folder: Path) -> Model:
        """The machine of the case, written into the folder and read from there."""
        (folder / "machine.py").write_text(HEAD + self.parts["machine"], encoding="utf-8")
        machine = read_machine(folder)
        control = (
            control_of(machine, self.parts["rows"], self.parts.get("opcodes", "")) if "rows" in self.parts else None
        )
        return Model(machine.folder, machine.netlist, machine.statements, control, machine.contents)


def rule_cases() -> Iterator[RuleCase]:
    for file in sorted(FOLDER.glob("*.txt")):
        for block in file.read_text(encoding="utf-8").split("== ")[1:]:
            title, _, rest = block.partition("\n")
            case = RuleCase(file.stem, title)
            name = "machine"
            for line in rest.splitlines(keepends=True):
                if line.startswith("-- "):
                    name = line[3:].strip()
                    case.parts[name] = ""
                else:
                    case.parts[name] = case.parts.get(name, "") + line
            yield case


def control_of(machine: LoadedMachine, rows: str, opcodes: str) -> ControlProgram:
    netlist, binding = machine.netlist, machine.statements.microprogram
    assert binding is not None
    address: dict[NetId, None] = {}
    word: dict[NetId, None] = {}
    for chip in binding.store:
        pins = memory_pins(netlist.part_of(chip))
        assert pins is not None
        address.update(dict.fromkeys(netlist.chips[chip].pins[pin] for pin in pins.address))
        word.update(dict.fromkeys(netlist.chips[chip].pins[pin] for pin in pins.data))
    nets = [net for net in address if net not in (netlist.high, netlist.low, -1)]
    shown = [net for net in word if net not in (netlist.high, netlist.low, -1)]
    codes = dict(code for line in opcodes.splitlines() for code in opcodes_of(line))
    made = [
        row_of(machine, line, number, (tuple(nets), tuple(shown)), codes)
        for number, line in enumerate(rows.splitlines(), start=1)
        if line.strip()
    ]
    return ControlProgram("steps", tuple(nets), tuple(shown), (), tuple(made), tuple(sorted(codes.items())))


def opcodes_of(line: str) -> list[tuple[int, str]]:
    """``3 add r`` or ``4-7 stop``."""
    span, _, block = line.strip().partition(" ")
    first, _, last = span.partition("-")
    return [(opcode, block) for opcode in range(int(first), int(last or first) + 1)]


def row_of(
    machine: LoadedMachine,
    line: str,
    number: int,
    nets: tuple[tuple[NetId, ...], tuple[NetId, ...]],
    codes: dict[int, str],
) -> Row:
    netlist, binding, (address, word) = machine.netlist, machine.statements.microprogram, nets
    assert binding is not None
    block, step, conditions, settings = (part.strip() for part in line.split("|"))
    levels = dict(level_of(netlist, text) for text in settings.split())
    rests = {item.net: item.rest for item in netlist.lines}
    kept = behind_registers(netlist)
    levels = {net: levels.get(kept.get(net, net), rests.get(kept.get(net, net), 0)) for net in word}
    bits = sum(levels[net] << bit for bit, net in enumerate(word))
    given = tuple((name, int(level)) for name, _, level in (text.partition("=") for text in conditions.split()))
    flags = {name: (net, level) for name, net, level in binding.conditions}
    fixed = {flags[name][0]: level if flags[name][1] else 1 - level for name, level in given}
    fixed |= {net: int(step) >> bit & 1 for bit, net in enumerate(binding.step)}
    mine = {opcode for opcode, name in codes.items() if name == block}
    places = [
        sum(level << bit for bit, level in enumerate(choice))
        for choice in product(*[(fixed[net],) if net in fixed else (0, 1) for net in address])
    ]
    if mine:
        places = [place for place in places if opcode_at(place, address, binding.opcode) in mine]
    return Row(block, int(step), given, tuple(places), bits, tuple(settings.split()), Position("wren.micro", number))


def behind_registers(netlist: Netlist) -> dict[NetId, NetId]:
    """Net at a D pin of a 273 -> net at its Q pin."""
    found = {}
    for chip in range(len(netlist.chips)):
        if netlist.part_of(chip).number == "273":
            found.update(zip(netlist.nets_of(chip, "D"), netlist.nets_of(chip, "Q"), strict=True))
    return found


def opcode_at(place: int, address: tuple[NetId, ...], opcode: tuple[NetId, ...]) -> int:
    return sum((place >> address.index(net) & 1) << bit for bit, net in enumerate(opcode))


def level_of(netlist: Netlist, text: str) -> tuple[NetId, int]:
    name, _, level = text.partition("=")
    return netlist.net_named[name], int(level)
