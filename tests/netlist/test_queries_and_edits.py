"""Questions to a netlist, and the edits that stand for faults on the bench."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from netlists import netlists

from latchwork import OPEN, Machine
from latchwork.chips.catalogue import entries, find
from latchwork.netlist import PinRef
from latchwork.netlist.edits import bridged, opened, replaced, stuck, swapped
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import Driver, chip_name, drivers, memory_pins, net_name, pin_name, readers
from latchwork.netlist.verify import verify


@pytest.fixture
def netlist():
    m = Machine("wren")
    data, shown, clock = m.bus("data", 8), m.bus("shown", 8), m.net("clock")
    m.chip("245", A=shown, B=data, DIR=m.net("up"), label="way")
    m.chip("377", CLK=clock, D=data, Q=[*shown[0:7], OPEN])
    m.gate("nand", data[0], data[1], name="both_n")
    m.assume(clock=0)
    return m.netlist()


def pin(netlist, reference, name):
    chip = netlist.chip_named[reference]
    return PinRef(chip, netlist.part_of(chip).pin_index[name])


def net_at(netlist, at):
    net = netlist.chips[at.chip].pins[at.pin]
    return net_name(netlist, net)


def test_who_drives_and_who_reads(netlist):
    shown = netlist.net_named["shown[3]"]
    assert {(each.chip, each.bit) for each in drivers(netlist, shown)} == {(0, 3), (1, 3)}
    q = pin(netlist, "U2", "Q4")
    assert Driver(1, 0, 3, q.pin) in drivers(netlist, shown)
    assert readers(netlist, shown) == (pin(netlist, "U1", "A4"),)
    assert set(readers(netlist, netlist.net_named["data[1]"])) == {
        pin(netlist, "U1", "B2"), pin(netlist, "U2", "D2"), pin(netlist, "U3", "B1")}  # fmt: skip
    assert drivers(netlist, netlist.net_named["clock"]) == ()


def test_names_in_sentences(netlist):
    """Pin 15 of a 245 is B4: SN74LS245 data sheet (SDLS146), terminal functions."""
    assert pin_name(netlist, pin(netlist, "U1", "B4")) == "U1 pin 15 (B4)"
    assert chip_name(netlist, 1) == "74HCT377 U2"
    assert net_name(netlist, NO_NET) == "no net"


BYTE_WIDE = [entry for entry in entries() if {name: len(pins) for name, pins in entry.vectors}.get("D") == 8]
BYTE_MEMORIES = [entry for entry in BYTE_WIDE if entry.kind == "memory" and "A" in dict(entry.vectors)]


@pytest.mark.parametrize("entry", BYTE_MEMORIES, ids=lambda entry: entry.number)
def test_memory_pins(entry):
    part = find(entry.number)
    pins = memory_pins(part)
    assert [part.pins[index].name for index in pins.address] == [f"A{bit}" for bit in range(len(pins.address))]
    assert [part.pins[index].name for index in pins.data] == [f"D{bit}" for bit in range(8)]


def test_memory_pins_of_a_part_with_separate_outputs():
    """Words are shown at the outputs; those of the 189 are inverted and so are not the word."""
    part = find("74LS219")
    pins = memory_pins(part)
    assert [part.pins[index].name for index in pins.data] == ["Q1", "Q2", "Q3", "Q4"]
    assert memory_pins(find("74LS189")) is None


def test_parts_without_memory_have_no_memory_pins():
    assert memory_pins(find("74HCT377")) is None


def test_stuck_input_pin_leaves_its_net_alone(netlist):
    at = pin(netlist, "U3", "A1")
    faulty = stuck(netlist, at, 1)
    assert net_at(faulty, at) == "HIGH"
    assert net_at(faulty, pin(netlist, "U2", "D1")) == "data[0]"


def test_stuck_output_takes_its_net_along(netlist):
    faulty = stuck(netlist, pin(netlist, "U2", "Q1"), 0)
    assert net_at(faulty, pin(netlist, "U1", "A1")) == net_at(faulty, pin(netlist, "U2", "Q1")) == "LOW"
    assert faulty.bus_named["shown"].nets[0] == netlist.low


def test_stuck_net(netlist):
    faulty = stuck(netlist, netlist.net_named["clock"], 1)
    assert net_at(faulty, pin(netlist, "U2", "CLK")) == "HIGH"
    assert faulty.assumptions[0].net == netlist.high


def test_open_pin(netlist):
    at = pin(netlist, "U1", "DIR")
    faulty = opened(netlist, at)
    assert net_at(faulty, at) == "no net"
    assert faulty.chips[0].left_open == ()
    with pytest.raises(ValueError, match="is open"):
        opened(faulty, at)


def test_swapped_pins(netlist):
    a, b = pin(netlist, "U2", "D1"), pin(netlist, "U2", "D2")
    faulty = swapped(netlist, a, b)
    assert (net_at(faulty, a), net_at(faulty, b)) == ("data[1]", "data[0]")
    assert swapped(faulty, a, b) == netlist


def test_bridged_nets(netlist):
    a, b = netlist.net_named["data[0]"], netlist.net_named["data[1]"]
    faulty = bridged(netlist, a, b)
    assert net_at(faulty, pin(netlist, "U2", "D2")) == "data[0]"
    assert faulty.bus_named["data"].nets[:2] == (a, a)
    assert faulty.pins_on[b] == ()
    with pytest.raises(ValueError, match="short circuit"):
        bridged(netlist, netlist.high, netlist.low)


def test_another_part_in_the_socket(netlist):
    faulty = replaced(netlist, 1, find("74HCT374"))
    assert chip_name(faulty, 1) == "74HCT374 U2"
    assert faulty.chips[1].pins == netlist.chips[1].pins  # both sheets number their pins alike
    with pytest.raises(ValueError, match="74HCT00 has other pin numbers than 74HCT377"):
        replaced(netlist, 1, find("74HCT00"))


@settings(deadline=None)
@given(netlists(), st.data())
def test_every_edit_leaves_a_sound_netlist(netlist, data):
    nets = st.integers(0, len(netlist.nets) - 1)
    faulty = [stuck(netlist, data.draw(nets.filter(lambda net: net not in (netlist.high, netlist.low))), 1)]
    a, b = data.draw(nets), data.draw(nets)
    if {a, b} != {netlist.high, netlist.low}:
        faulty.append(bridged(netlist, a, b))
    pins = [PinRef(chip, pin) for chip, each in enumerate(netlist.chips) for pin in range(len(each.pins))]
    joined = [at for at in pins if netlist.chips[at.chip].pins[at.pin] != NO_NET]
    if joined:
        faulty.append(opened(netlist, data.draw(st.sampled_from(joined))))
        faulty.append(swapped(netlist, data.draw(st.sampled_from(pins)), data.draw(st.sampled_from(pins))))
    assert [verify(each) for each in faulty] == [()] * len(faulty)
