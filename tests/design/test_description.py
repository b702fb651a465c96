"""What the statements of machine.py become in the netlist."""

import pytest

from latchwork import HIGH, LOW, OPEN, Machine, keeper, pull_down, pull_up
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.verify import verify


def chip(netlist, reference):
    return netlist.chips[netlist.chip_named[reference]]


def net_at(netlist, reference, pin):
    """The name of the net on a pin, by the pin's name."""
    index = netlist.chip_named[reference]
    net = netlist.chips[index].pins[netlist.part_of(index).pin_index[pin]]
    return None if net == NO_NET else netlist.nets[net].name


def parameters(netlist, part):
    """The parameters of the chips of a part, in order."""
    return [dict(each.parameters) for each in netlist.chips if netlist.parts[each.part].name == part]


def test_a_chip_gets_supply_pins_vectors_and_a_label():
    m = Machine("wren")
    data, clock = m.bus("data", 8), m.net("clock")
    with m.board("accumulator", title="Accumulator"):
        hold = m.chip("377", {"/G": LOW}, CLK=clock, D=data, label="hold")
        held = hold.Q
    netlist = m.netlist()
    assert verify(netlist) == ()
    assert [net_at(netlist, "U1", pin) for pin in ("VCC", "GND", "G_n", "CLK", "D1", "D8")] == [
        "HIGH", "LOW", "LOW", "clock", "data[0]", "data[7]"]  # fmt: skip
    assert (hold.label, hold.reference, chip(netlist, "U1").label) == ("accumulator.hold", "U1", "accumulator.hold")
    assert held[0].name == net_at(netlist, "U1", "Q1") == "accumulator.hold.Q[0]"
    assert netlist.bus_named["accumulator.hold.Q"].nets == netlist.nets_of(0, "Q")
    assert not netlist.nets[netlist.net_named["accumulator.hold.Q[0]"]].declared
    assert [(board.name, board.title) for board in netlist.boards] == [("accumulator", "Accumulator")]


def test_labels_are_unique_and_references_count_by_kind():
    m = Machine("wren")
    with m.board("one"):
        m.chip("74HCT377", label="hold")
        m.chip("74HCT377", label="hold")
    m.lamp(m.net("carry"))
    m.switch("run")
    m.clock("1M")
    netlist = m.netlist()
    assert [(each.reference, each.label) for each in netlist.chips] == [
        ("U1", "one.hold"), ("U2", "one.hold#2"), ("D1", "carry.lamp"), ("R1", "carry.lamp_resistor"),
        ("S1", "run"), ("R2", "run.pull"), ("X1", "clock")]  # fmt: skip


def test_open_on_purpose_is_told_from_forgotten():
    m = Machine("wren")
    m.chip("74HCT377", Q1=OPEN)
    only = m.netlist().chips[0]
    part = m.netlist().parts[0]
    assert only.left_open == (part.pin_index["Q1"],)
    assert only.pins[part.pin_index["Q1"]] == only.pins[part.pin_index["Q2"]] == NO_NET


def test_gates_fill_packages_of_their_board_and_spare_inputs_are_low():
    m = Machine("wren")
    a, b = m.net("a"), m.net("b")
    with m.board("one"):
        outputs = [m.gate("nand", a, b) for _ in range(5)]
    with m.board("two"):
        m.gate("nand", a, b, name="both_n")
        m.gate("nand", a, b, family="LS")
    with m.board("one"):
        m.gate("nand", a, HIGH)
    netlist = m.netlist()
    assert verify(netlist) == ()
    found = [(netlist.part_of(index).name, netlist.boards[each.board].name, each.spare_units)
             for index, each in enumerate(netlist.chips)]  # fmt: skip
    assert found == [("74HCT00", "one", ()), ("74HCT00", "one", ("3", "4")), ("74HCT00", "two", ("2", "3", "4")),
                     ("74LS00", "two", ("2", "3", "4"))]  # fmt: skip
    assert [net_at(netlist, "U2", pin) for pin in ("A2", "B2", "A3", "B3", "Y3")] == ["a", "HIGH", "LOW", "LOW", None]
    assert outputs[4].name == net_at(netlist, "U2", "Y1") == "one.nand5"
    assert net_at(netlist, "U3", "Y1") == "both_n"


def test_lines_take_their_level_from_their_name():
    m = Machine("wren")
    clock = m.net("clock")
    m.line("acc_take_n", phase={clock: LOW})
    m.line("pc_advance", rest=HIGH, hardware=True)
    row = m.lines("alu_f", 2)
    netlist = m.netlist()
    assert [(line.name, line.active, line.rest, line.hardware) for line in netlist.lines] == [
        ("acc_take", 0, 1, False),
        ("pc_advance", 1, 1, True),
        ("alu_f0", 1, 0, False),
        ("alu_f1", 1, 0, False),
    ]
    assert netlist.line_named["acc_take"].phase == ((clock.index, 0),)
    assert netlist.nets[netlist.line_named["alu_f1"].net].name == row[1].name == "alu_f[1]"


@pytest.mark.parametrize(("idle", "kind", "rail"), [(pull_up("4.7k"), "high", "HIGH"), (pull_down(4700), "low", "LOW")])
def test_an_idle_bus_has_a_resistor_a_net(idle, kind, rail):
    m = Machine("wren")
    m.bus("data", 8, idle=idle)
    netlist = m.netlist()
    assert netlist.bus_named["data"].idle == kind
    assert parameters(netlist, "resistor") == [{"ohms": 4700}] * 8
    assert {net_at(netlist, f"R{number}", "B") for number in range(1, 9)} == {rail}


def test_a_kept_bus_has_a_keeper_a_net():
    m = Machine("wren")
    m.bus("data", 2, idle=keeper())
    netlist = m.netlist()
    assert [net_at(netlist, reference, "A") for reference in ("U1", "U2")] == ["data[0]", "data[1]"]
    assert netlist.bus_named["data"].idle == "keep"


def test_a_lamp_stands_between_its_net_and_a_resistor_to_ground():
    m = Machine("wren")
    m.lamp(m.net("carry"), colour="amber", resistor="470")
    m.lamp(m.net("zero"), resistor=None)
    netlist = m.netlist()
    assert (net_at(netlist, "D1", "A"), net_at(netlist, "D2", "A"), net_at(netlist, "D2", "K")) == (
        "carry",
        "zero",
        "LOW",
    )
    assert net_at(netlist, "D1", "K") == net_at(netlist, "R1", "A") != "LOW"
    assert net_at(netlist, "R1", "B") == "LOW"
    assert parameters(netlist, "LED") == [{"colour": "amber"}, {"colour": "red"}]


@pytest.mark.parametrize(("closed", "pulled"), [(LOW, "HIGH"), (HIGH, "LOW")])
def test_a_switch_ties_to_one_rail_and_is_pulled_to_the_other(closed, pulled):
    m = Machine("wren")
    m.switch("run", closed=closed)
    m.button("step", closed=closed)
    netlist = m.netlist()
    assert [net_at(netlist, reference, "B") for reference in ("S1", "R1", "S2", "R2")] == [closed.name, pulled] * 2
    assert [net_at(netlist, reference, "A") for reference in ("S1", "R1", "S2", "R2")] == ["run", "run", "step", "step"]


def test_the_first_crystal_is_the_main_clock():
    m = Machine("wren")
    m.hand_clock()
    main = m.clock("2M")
    m.clock(3_000_000)
    netlist = m.netlist()
    assert netlist.clock == main.index
    assert parameters(netlist, "crystal oscillator") == [{"period": 500_000}, {"period": 333_333}]


def test_without_a_crystal_the_hand_clock_is_the_main_clock():
    m = Machine("wren")
    by_hand = m.hand_clock()
    assert m.netlist().clock == by_hand.index


def test_hand_and_crystal_are_chosen_by_one_package_of_gates():
    m = Machine("wren")
    clock = m.clock(1_000_000, hand=True)
    m.assume(hand_mode=LOW)
    netlist = m.netlist()
    assert verify(netlist) == ()
    gates = [each for each in netlist.chips if netlist.parts[each.part].name == "74HCT00"]
    assert [each.spare_units for each in gates] == [()]
    assert clock.index in gates[0].pins
    assert netlist.clock == clock.index
    assert netlist.assumptions[0].net == netlist.net_named["hand_mode"]


def test_reset_ends_inside_the_low_half_of_the_clock():
    """Four periods and a quarter: the crystal's wave starts low and rises after half a period."""
    m = Machine("wren")
    m.power_on_reset()
    m.clock(1_000_000)
    assert parameters(m.netlist(), "reset supervisor") == [{"hold": 4_250_000}]


def test_reset_without_a_crystal_lasts_a_persons_time_or_what_is_asked():
    m = Machine("wren")
    m.power_on_reset()
    m.power_on_reset("1m", name="slow_reset_n")
    assert parameters(m.netlist(), "reset supervisor") == [{"hold": 10**11}, {"hold": 10**9}]


def test_pulse_delay_and_oscillator_carry_their_times():
    m = Machine("wren")
    strobe = m.net("strobe")
    later = m.delay(m.pulse(strobe, "100n"), "50n", name="later")
    m.oscillator("1k")
    netlist = m.netlist()
    assert verify(netlist) == ()
    assert parameters(netlist, "pulse") == [{"width": 100_000}]
    assert parameters(netlist, "delay") == [{"time": 50_000}]
    assert parameters(netlist, "oscillator") == [{"period": 10**9}]
    assert later.name == "later"


def test_positions_name_the_innermost_line_of_the_user():
    m = Machine("wren")

    def register(name):
        return m.chip("74HCT377", label=name)

    register("acc")
    position = m.netlist().chips[0].position
    assert position.file == __file__
    assert 'm.chip("74HCT377", label=name)' in position.source_line()


def test_buses_are_sliced_and_put_together_lowest_bit_first():
    m = Machine("wren")
    data, carry = m.bus("data", 4), m.net("carry")
    names = [net.name for net in carry + data[1:3] + data[-1]]
    assert names == ["carry", "data[1]", "data[2]", "data[3]"]
    assert [net.name for net in data[::-1]] == ["data[3]", "data[2]", "data[1]", "data[0]"]
    assert len(data + data) == 8


def test_ports_are_joined_later_for_rings():
    m = Machine("wren")
    hold = m.chip("74HCT377")
    m.connect(hold, D=hold.Q)
    netlist = m.netlist()
    assert netlist.nets_of(0, "D") == netlist.nets_of(0, "Q")


def test_an_output_of_a_vector_partly_joined_gets_nets_for_the_rest():
    m = Machine("wren")
    low = m.net("lowest")
    held = m.chip("74HCT377", Q1=low, label="hold").Q
    assert [net.name for net in held][:2] == ["lowest", "hold.Q2"]


def test_what_wiring_cannot_tell():
    m = Machine("wren")
    code, carry, address, data = m.bus("code", 8), m.net("carry"), m.bus("address", 11), m.bus("data", 8)
    rom = m.chip("28C16", A=address, D=data)
    m.line("rom_show_n")
    m.microprogram("wren.micro", store=[rom], opcode=code, conditions={"carry": carry, "zero": (code[0], LOW)})
    m.space("program", address=address, data=data, chips=[rom], show="rom_show")
    m.section("text", space="program", start=0, size=2048)
    m.output("lamps", data, take=carry)
    m.input("keys", code)
    m.halt_when(carry, HIGH)
    m.register("acc", data)
    m.image(rom, "text.bin")
    stated = m.statements()
    assert stated.microprogram.store == (0,)
    assert stated.microprogram.conditions == (("carry", carry.index, 1), ("zero", code[0].index, 0))
    assert (stated.spaces[0].show, len(stated.spaces[0].address), stated.sections[0].size) == ("rom_show", 11, 2048)
    assert [(port.name, port.direction, port.take) for port in stated.ports] == [
        ("lamps", "out", carry.index), ("keys", "in", -1)]  # fmt: skip
    assert (stated.halts[0].level, stated.registers[0][0], stated.images[0].source) == (1, "acc", "text.bin")
    assert stated.microprogram.position.source_line().strip().startswith("m.microprogram")
