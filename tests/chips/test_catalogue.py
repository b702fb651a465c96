"""The whole catalogue, every entry of it: complete in pins, behaviour, figures, sources and documentation.

The list of what a chip file must have is the project's own; the units and quantities are those of data sheets
(common practice).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

import pytest

from latchwork.chips import catalogue
from latchwork.chips.catalogue import UnknownPart, find, find_in_family, gate_entry
from latchwork.chips.families import FAMILIES, Family, Technology, family_named
from latchwork.logic import Expression, Operation
from latchwork.logic.text import parsed, written
from latchwork.parts import Behaviour, Direction, Entry, Floating, OutputKind, Part

HEADINGS = ["What it does", "Pins", "Function table", "Timing", "Mistakes people make", "Sources"]
UNITS = {"ns", "MHz", "mA", "uA", "V", "pF", "mW"}
UNITS_OF = {
    **{quantity: {"ns"} for quantity in ("delay", "enable", "disable", "setup", "hold", "pulse width", "recovery")},
    **{quantity: {"ns"} for quantity in ("access", "write width")},
    "maximum clock": {"MHz"},
    "supply current": {"mA", "uA"},
    "power capacitance": {"pF"},
    **{quantity: {"V"} for quantity in ("input high", "input low", "output high", "output low", "supply range")},
    **{quantity: {"mA", "uA"} for quantity in ("input current high", "input current low")},
    **{quantity: {"mA", "uA"} for quantity in ("output current high", "output current low")},
}
REACTIONS = {"delay", "access"}

ENTRIES = catalogue.entries()
each_entry = pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.number)
each_module = pytest.mark.parametrize("module", catalogue.modules(), ids=lambda module: module.__name__)


def part_of(entry: Entry) -> Part:
    """The part in its first family; pins and vectors are those of all."""
    return entry.in_family(entry.families[0], Floating.UNKNOWN)


def behaviours(entry: Entry) -> list[Behaviour]:
    return [entry.behaviour, *dict(entry.behaviours).values()]


def expressions(behaviour: Behaviour) -> Iterator[Expression]:
    """Every expression that stands in a behaviour."""
    for drive in behaviour.drives:
        yield drive.value
        if drive.enable is not None:
            yield drive.enable
    for register in behaviour.registers:
        for update in register.updates:
            yield from (update.clock, update.data)
    for latch in behaviour.latches:
        yield from (latch.enable, latch.data)
    for state in (*behaviour.registers, *behaviour.latches):
        for level in state.levels:
            yield from (level.active, level.value)
    for memory in behaviour.memories:
        for write in memory.writes:
            yield from (write.strobe, write.address, write.data)
    for timer in behaviour.timers:
        if timer.trigger is not None:
            yield timer.trigger


def nodes(expression: Expression) -> Iterator[Expression]:
    yield expression
    for argument in expression.args:
        yield from nodes(argument)


def leaves(behaviour: Behaviour, operation: Operation) -> set[tuple[str, int]]:
    """Names and widths of all variables, or of all memories read, in a behaviour."""
    return {
        (str(node.data), node.width)
        for expression in expressions(behaviour)
        for node in nodes(expression)
        if node.operation is operation
    }


def state_widths(behaviour: Behaviour) -> dict[str, int]:
    widths = {state.name: state.width for state in (*behaviour.registers, *behaviour.latches)}
    return widths | {timer.name: 1 for timer in behaviour.timers}


def pins_on(part: Part, ports: set[str]) -> set[str]:
    return {part.pins[pin].name for port in ports if port in part.ports for pin in part.ports[port]}


@each_entry
def test_pins_are_numbered_without_gaps_and_named_once(entry: Entry) -> None:
    numbers = [pin.number for pin in entry.pins]
    if entry.number == "crystal oscillator":  # four legs at the corners of a fourteen-pin outline
        assert numbers == [1, 7, 8, 14]
    else:
        assert sorted(numbers) == list(range(1, len(entry.pins) + 1))
    assert max(Counter(pin.name for pin in entry.pins).values()) == 1
    assert all(re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9_]*", pin.name) for pin in entry.pins)


@each_entry
def test_an_integrated_circuit_has_supply_and_ground(entry: Entry) -> None:
    directions = {pin.direction for pin in entry.pins}
    if entry.width_mil:
        assert len(entry.pins) % 2 == 0
    if entry.width_mil and directions != {Direction.PASSIVE}:
        assert Direction.GROUND in directions
        assert Direction.SUPPLY in directions or entry.number == "ULN2803"
    if entry.families != ("",):
        assert entry.width_mil in {300, 600}


@each_entry
def test_vectors_are_of_pins_and_hide_none(entry: Entry) -> None:
    pins = {pin.name for pin in entry.pins}
    names = [name for name, _ in entry.vectors]
    assert not pins & set(names), "a vector with the name of a pin makes the pin unreachable"
    assert len(names) == len(set(names))
    for _, members in entry.vectors:
        assert set(members) <= pins
        assert len(members) == len(set(members))


@each_entry
def test_every_variable_is_a_port_or_state_of_that_width(entry: Entry) -> None:
    ports = {name: len(pins) for name, pins in part_of(entry).ports.items()}
    for behaviour in behaviours(entry):
        known = ports | state_widths(behaviour)
        for name, width in leaves(behaviour, Operation.VARIABLE):
            assert known.get(name) == width, f"{name} of {width} bits"
        words = {memory.name: memory.width for memory in behaviour.memories}
        for name, width in leaves(behaviour, Operation.READ):
            assert words.get(name) == width, f"memory {name} of {width} bits"


@each_entry
def test_names_of_states_are_their_own(entry: Entry) -> None:
    for behaviour in behaviours(entry):
        every = (*behaviour.registers, *behaviour.latches, *behaviour.memories, *behaviour.timers)
        names = [state.name for state in every]
        assert len(names) == len(set(names))
        assert not set(names) & set(part_of(entry).ports)


@each_entry
def test_widths_agree(entry: Entry) -> None:
    ports = part_of(entry).ports
    for behaviour in behaviours(entry):
        for drive in behaviour.drives:
            assert drive.value.width == len(ports[drive.port])
            assert (drive.enable is not None) == (drive.kind is OutputKind.THREE_STATE)
            assert drive.enable is None or drive.enable.width == 1
        for register in behaviour.registers:
            assert all((update.clock.width, update.data.width) == (1, register.width) for update in register.updates)
        for latch in behaviour.latches:
            assert (latch.enable.width, latch.data.width) == (1, latch.width)
        for state in (*behaviour.registers, *behaviour.latches):
            assert all((level.active.width, level.value.width) == (1, state.width) for level in state.levels)
        for memory in behaviour.memories:
            for write in memory.writes:
                widths = (write.strobe.width, write.address.width, write.data.width)
                assert widths == (1, memory.address_width, memory.width)
        for port in (
            *(port for tie in behaviour.ties for port in (tie.a, tie.b)),
            *(k.port for k in behaviour.keepers),
        ):
            assert port in ports


@each_entry
def test_every_output_is_driven_once(entry: Entry) -> None:
    part = part_of(entry)
    for behaviour in behaviours(entry):
        driven = Counter(part.pins[pin].name for drive in behaviour.drives for pin in part.ports[drive.port])
        outputs = {pin.name for pin in part.pins if pin.direction in {Direction.OUTPUT, Direction.BOTH}}
        assert driven == (Counter() if entry.kind == "programmable" else Counter(outputs))  # no fuse is set yet


@each_entry
def test_every_input_has_an_effect(entry: Entry) -> None:
    if entry.kind == "programmable":
        pytest.skip("no fuse is set yet")
    part = part_of(entry)
    used: set[str] = set()
    for behaviour in behaviours(entry):
        used |= pins_on(part, {name for name, _ in leaves(behaviour, Operation.VARIABLE)})
    inputs = {pin.name for pin in part.pins if pin.direction in {Direction.INPUT, Direction.BOTH}}
    assert inputs <= used


@each_entry
def test_every_output_has_a_delay(entry: Entry) -> None:
    part = part_of(entry)
    if entry.behaviour.timers:
        pytest.skip("changes by a time that the builder states")
    for quantities, outputs in (
        (REACTIONS, {drive.port for drive in entry.behaviour.drives}),
        ({"enable"}, {drive.port for drive in entry.behaviour.drives if drive.enable is not None}),
        ({"disable"}, {drive.port for drive in entry.behaviour.drives if drive.enable is not None}),
    ):
        ends = {row.end for row in entry.figures if row.quantity in quantities}
        assert pins_on(part, outputs) <= pins_on(part, ends), f"an output without {' or '.join(sorted(quantities))}"


@each_entry
def test_figures_are_whole(entry: Entry) -> None:
    ports = {"", *part_of(entry).ports}
    for row in entry.figures:
        assert row.family in entry.families
        assert row.source.strip()
        assert row.unit in UNITS
        assert row.unit in UNITS_OF[row.quantity], f"{row.quantity} in {row.unit}"
        assert row.edge in {"", "rise", "fall"}
        assert {row.start, row.end} <= ports, f"{row.quantity} from {row.start} to {row.end}"
        values = [value for value in (row.minimum, row.typical, row.maximum) if value is not None]
        assert values, f"{row.quantity} without a number"
        assert [abs(value) for value in values] == sorted(abs(value) for value in values)


@each_entry
def test_families_are_known(entry: Entry) -> None:
    assert set(entry.families) <= set(FAMILIES)
    assert len(entry.families) == len(set(entry.families))
    assert set(dict(entry.behaviours)) <= set(entry.families)


@each_entry
def test_units_are_equal_pieces(entry: Entry) -> None:
    ports = part_of(entry).ports
    general = {tuple(name for name, _ in unit.ports) for unit in entry.units}
    assert len(general) <= 1
    taken = [port for unit in entry.units for _, port in unit.ports]
    assert set(taken) <= set(ports)
    shared = {port for port, times in Counter(taken).items() if times > 1}
    assert not shared & {drive.port for drive in entry.behaviour.drives}
    if entry.function:
        assert all(len(unit.ports) == entry.inputs + 1 for unit in entry.units)
        assert entry.units


@each_entry
def test_every_expression_is_read_back_from_its_text(entry: Entry) -> None:
    for behaviour in behaviours(entry):
        for expression in expressions(behaviour):
            assert parsed(written(expression)) is expression


@each_module
def test_documentation_has_the_six_headings(module: object) -> None:
    lines = (module.__doc__ or "").splitlines()
    assert lines[0].endswith(".")
    assert [line for line in lines[1:] if line and not line.startswith(" ")] == HEADINGS


def test_names_are_given_once() -> None:
    names = Counter(entry.name_in(family) for entry in ENTRIES for family in entry.families)
    assert max(names.values()) == 1


def test_the_first_parts_are_all_there() -> None:
    numbers = {entry.number for entry in ENTRIES}
    wanted = "00 02 04 08 10 11 14 20 27 30 32 86 74 173 174 175 273 373 374 377 574 125 244 245 541 165 595"
    assert set(wanted.split()) <= numbers


def test_finding_gives_the_same_part_each_time() -> None:
    assert find("74HCT377") is find_in_family("377", "HCT")
    assert find("7400").family == ""
    assert find("7474").number == "74"
    assert find("74S74").family == "S"


def test_a_part_has_only_the_figures_of_its_family() -> None:
    assert {row.family for row in find("74LS273").figures} == {"LS"}


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("74LS574", "74LS574 does not exist; 574 is made in ALS, F, HC, HCT, AC, ACT, AHC, AHCT, LVC"),
        ("74S173", "74S173 does not exist; 173 is made in TTL, LS, HC, HCT"),
        ("74377", "74377 does not exist; 377 is made in LS, F, HC, HCT, AC, ACT, AHC, AHCT"),
        ("74hct377", '"74hct377" is not in the catalogue; near it are 74HCT377, 74AHCT377, 74HC377'),
        ("anemometer", '"anemometer" is not in the catalogue'),
    ],
)
def test_an_unknown_name_says_what_there_is(name: str, message: str) -> None:
    with pytest.raises(UnknownPart) as caught:
        find(name)
    assert str(caught.value) == message


def test_an_unknown_number_in_a_family_says_what_there_is() -> None:
    with pytest.raises(UnknownPart, match=r'^"9999" is not in the catalogue'):
        find_in_family("9999", "HCT")
    with pytest.raises(UnknownPart) as caught:
        find_in_family("574", "LS")
    assert caught.value.families == ("ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC")


@pytest.mark.parametrize(
    ("function", "inputs", "number"),
    [
        *(
            ("nand", 2, "00"),
            ("nand", 3, "10"),
            ("nand", 4, "20"),
            ("nand", 8, "30"),
            ("nor", 2, "02"),
            ("nor", 3, "27"),
            ("nor", 5, "260"),
            ("nand", 13, "133"),
            ("and", 4, "21"),
            ("schmitt nand", 2, "132"),
        ),
        *(("inverter", 1, "04"), ("schmitt inverter", 1, "14"), ("and", 2, "08"), ("and", 3, "11"), ("or", 2, "32")),
        ("xor", 2, "86"),
    ],
)
def test_gates_are_found_by_function(function: str, inputs: int, number: str) -> None:
    assert gate_entry(function, inputs).number == number


def test_a_gate_that_is_not_made_says_what_is() -> None:
    with pytest.raises(UnknownPart) as caught:
        gate_entry("nand", 5)
    assert str(caught.value) == 'no "nand" gate has 5 inputs; there are gates with 2, 3, 4, 8, 13'
    with pytest.raises(UnknownPart, match=r'^"nandd" is no gate; there are '):
        gate_entry("nandd", 2)


@pytest.mark.parametrize("family", FAMILIES.values(), ids=lambda family: family.name or "TTL")
def test_a_family_has_levels_and_currents_with_sources(family: Family) -> None:
    rows = family.figure
    wanted = {"input high", "input low", "output high", "output low", "supply range"}
    currents = {f"{side} current {level}" for side in ("input", "output") for level in ("high", "low")}
    assert wanted | currents <= set(rows)
    assert all(row.source and row.unit in UNITS_OF[row.quantity] for row in family.figures)
    assert rows["input low"].maximum < rows["input high"].minimum
    assert rows["output low"].maximum < rows["output high"].minimum
    assert (rows["supply range"].minimum, rows["supply range"].maximum) == family.supply


def test_open_inputs_read_as_the_technology_has_it() -> None:
    """TTL high, CMOS unknown (common practice)."""
    assert find("74LS00").floating is Floating.HIGH
    assert find("7400").floating is Floating.HIGH
    assert find("74HCT00").floating is Floating.UNKNOWN
    assert family_named("AC").technology is Technology.CMOS


@pytest.mark.parametrize(
    ("driver", "load", "fan_out"),
    [("", "", 10), ("LS", "LS", 20), ("LS", "", 5), ("", "LS", 20), ("HC", "LS", 10), ("F", "F", 33), ("F", "LS", 50)],
)
def test_fan_out_is_the_published_one(driver: str, load: str, fan_out: int) -> None:
    """TTL to TTL 10 and LS to LS 20 by the comparison tables of textbooks, HC to LS 10 by the makers' sheets,
    the rest computed from the same rows. The high side binds where it is stated in microamperes of both."""
    out, into = family_named(driver).figure, family_named(load).figure
    low = out["output current low"].maximum / -into["input current low"].maximum
    high = -1000 * out["output current high"].maximum / into["input current high"].maximum
    assert int(min(low, high) + 1e-9) == fan_out
