"""Where memories answer and how their pins are wired.

Outside reference: common practice. What the wiring means is computed a second time in the tests, by plain loops over
the orders in which the wires were drawn, and by the function table of the decoder (74HC138, all outputs but the
selected one high).
"""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork import HIGH, LOW, Machine
from latchwork.analysis.spaces import SpaceMap, image_for, images_for, map_space, words_of
from latchwork.model import Space
from latchwork.problems import LatchworkError


def mapped(m: Machine) -> SpaceMap:
    return map_space(m.netlist(), m.statements().spaces[0])


def decoded_machine(address_order: list[int], data_order: list[int]) -> Machine:
    """A 28C64 at 0x0000, another at 0x4000 behind a bus buffer, a 62256 in the upper half; wires in any order."""
    m = Machine("spread", family="HCT")
    address, data, inside = m.bus("address", 16), m.bus("data", 8), m.bus("inside", 8)
    read_n, write_n = m.line("read_n"), m.line("write_n")
    chosen = m.chip("138", S=address[13:16], G1=HIGH, G2A_n=LOW, G2B_n=LOW).Y
    wires = [address[bit] for bit in address_order]
    rom = m.chip("28C64", A=wires, D=[data[b] for b in data_order], CE_n=chosen[0], OE_n=read_n, WE_n=HIGH, label="low")
    far = m.chip("28C64", A=wires[::-1], D=inside, CE_n=chosen[2], OE_n=read_n, WE_n=HIGH, label="far")
    m.chip("245", A=inside, B=[data[b] for b in data_order], DIR=HIGH, G_n=chosen[2])
    upper_n = m.gate("inverter", address[15])
    ram = m.chip("62256", A=address[0:15], D=data, CE_n=upper_n, OE_n=read_n, WE_n=write_n, label="ram")
    m.space("all", address=address, data=data, chips=[rom, far, ram])
    return m


def test_where_chips_answer() -> None:
    found = mapped(decoded_machine(list(range(13)), list(range(8))))
    assert not found.problems
    shape = [(region.start, region.size, region.writable, region.keeps) for region in found.regions]
    assert shape == [(0, 0x2000, False, True), (0x4000, 0x2000, False, True), (0x8000, 0x8000, True, False)]
    assert found.regions[0].address_map == tuple(range(13))
    assert found.regions[1].address_map == tuple(range(12, -1, -1))
    assert found.regions[2].data_map == tuple(range(8))
    assert [found.covered(a) for a in (0, 0x2000, 0x5FFF, 0xFFFF)] == [0xFF, 0, 0xFF, 0xFF]


@settings(max_examples=8, deadline=None)
@given(st.permutations(range(13)), st.permutations(range(8)), st.integers(0, 2**32))
def test_any_order_of_wires(address_order: list[int], data_order: list[int], seed: int) -> None:
    """The byte that the space shows lies in the cell whose pins carry the address, with its bits at their pins."""
    found = mapped(decoded_machine(address_order, data_order))
    assert not found.problems
    chance = random.Random(seed)
    words = {chance.choice((0, 0x4000)) + chance.randrange(0x2000): chance.randrange(256) for _ in range(200)}
    images = image_for(found.regions, words)
    low, far = found.regions[0].chip, found.regions[1].chip
    for address, word in words.items():
        order = address_order if address < 0x2000 else address_order[::-1]
        cell = sum((address >> bit & 1) << pin for pin, bit in enumerate(order))
        byte = sum((word >> bit & 1) << pin for pin, bit in enumerate(data_order))
        assert images[low if address < 0x2000 else far][cell] == byte
    assert {a: w for a, w in words_of(found.regions, images).items() if a in words} == words


def test_unused_cells_are_erased() -> None:
    found = mapped(decoded_machine(list(range(13)), list(range(8))))
    (image,) = image_for(found.regions, {3: 0x12}).values()
    assert image == b"\xff\xff\xff\x12" + b"\xff" * 0x1FFC


def test_inverting_wires() -> None:
    """An address bit through an inverter, and data bits through gates that invert."""
    m = Machine("turned", family="HCT")
    address, data = m.bus("address", 11), m.bus("data", 8)
    raw = m.bus("raw", 8)
    rom = m.chip("28C16", A=[*address[0:10], m.gate("inverter", address[10])], D=raw, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    for bit in range(8):
        m.gate("inverter", raw[bit], out=data[bit])
    m.space("all", address=address, data=data, chips=[rom])
    found = mapped(m)
    assert not found.problems
    assert found.regions[0].address_map == (*range(10), -1)
    (image,) = image_for(found.regions, {0: 0x0F, 0x400: 0x55}).values()
    assert (image[0x400], image[0]) == (0xF0, 0xAA)
    assert words_of(found.regions, {found.regions[0].chip: image})[0x400] == 0x55


def test_two_chips_beside_each_other_make_wide_words() -> None:
    m = Machine("wide", family="HCT")
    address, data = m.bus("address", 11), m.bus("data", 16)
    chips = [m.chip("28C16", A=address, D=half, CE_n=LOW, OE_n=LOW, WE_n=HIGH) for half in (data[0:8], data[8:16])]
    m.space("all", address=address, data=data, chips=chips)
    found = mapped(m)
    assert not found.problems
    images = image_for(found.regions, {7: 0x1234})
    assert [image[7] for _, image in sorted(images.items())] == [0x34, 0x12]
    assert words_of(found.regions, images)[7] == 0x1234


def banked(assumed: bool) -> Machine:
    m = Machine("banked", family="HCT")
    address, data, bank = m.bus("address", 12), m.bus("data", 8), m.line("bank")
    rom = m.chip("28C64", A=[*address, bank], D=data, CE_n=LOW, OE_n=LOW, WE_n=HIGH, label="rom")
    m.space("program", address=address, data=data, chips=[rom])
    if assumed:
        m.assume(bank=HIGH)
    return m


def test_a_bank_line_must_be_stated() -> None:
    found = mapped(banked(assumed=False))
    assert found.regions == ()
    (problem,) = found.problems
    assert problem.code == "M403"
    assert problem.message == (
        "U1 pin 2 (A12) carries `bank`, which is no address bit of `program` and has no known level"
    )
    assert problem.help == (
        'state the level it has while programs run: `m.assume("bank", LOW)`, '
        "or `when=` of the space where programs change it"
    )


def test_a_stated_bank_is_heeded() -> None:
    found = mapped(banked(assumed=True))
    assert not found.problems
    (image,) = image_for(found.regions, {5: 1}).values()
    assert [cell for cell, byte in enumerate(image) if byte == 1] == [0x1005]


def test_mirrored_cells() -> None:
    """A chip that leaves out an address bit answers twice; one cell can't hold two words."""
    m = Machine("mirrored", family="HCT")
    address, data = m.bus("address", 12), m.bus("data", 8)
    rom = m.chip("28C16", A=address[0:11], D=data, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    m.space("all", address=address, data=data, chips=[rom])
    found = mapped(m)
    assert not found.problems
    assert image_for(found.regions, {1: 5, 0x801: 5})
    with pytest.raises(LatchworkError) as caught:
        image_for(found.regions, {1: 5, 0x801: 6})
    assert caught.value.problems[0].code == "M408"
    assert caught.value.problems[0].message == (
        "$1 and $801 are one cell of a chip, and the program wants two words there"
    )


def test_two_chips_at_one_address() -> None:
    m = Machine("crowded", family="HCT")
    address, data = m.bus("address", 11), m.bus("data", 8)
    chips = [m.chip("28C16", A=address, D=data, CE_n=LOW, OE_n=LOW, WE_n=HIGH) for _ in range(2)]
    m.space("all", address=address, data=data, chips=chips)
    (problem,) = mapped(m).problems
    assert (problem.code, problem.message) == ("M407", "28C16 U1 and 28C16 U2 may both answer at $0 of `all`")


def test_a_chip_that_never_answers_and_one_that_is_elsewhere() -> None:
    m = Machine("lost", family="HCT")
    address, data, other = m.bus("address", 11), m.bus("data", 8), m.bus("other", 8)
    never = m.chip("28C16", A=address, D=data, CE_n=HIGH, OE_n=LOW, WE_n=HIGH)
    apart = m.chip("28C16", A=address, D=other, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    m.space("all", address=address, data=data, chips=[never, apart])
    found = {problem.code: problem.message for problem in mapped(m).problems}
    assert found == {
        "M404": "28C16 U1 answers at no address of `all`",
        "M405": "no data pin of 28C16 U2 reaches the data nets of `all`",
    }


def test_ambiguous_data() -> None:
    """A selector that shows a byte plain or with its halves exchanged: no one image is right."""
    m = Machine("ambiguous", family="HCT")
    address, data, raw = m.bus("address", 11), m.bus("data", 8), m.bus("raw", 8)
    rom = m.chip("28C16", A=address, D=raw, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    turn = m.line("turn")
    for low in (0, 4):
        half, other = raw[low : low + 4], raw[4 - low : 8 - low]
        m.chip("157", S=turn, G_n=LOW, A=half, B=other, Y=data[low : low + 4])
    m.space("all", address=address, data=data, chips=[rom])
    assert {problem.code for problem in mapped(m).problems} == {"M406"}


def test_what_can_not_be_followed() -> None:
    """A space too large to try every address, and a chip that is no memory."""
    netlist = decoded_machine(list(range(13)), list(range(8))).netlist()
    nets, decoder = tuple(range(21)), netlist.chip_named["U1"]
    (problem,) = map_space(netlist, Space("huge", nets, nets[:8], ())).problems
    assert (problem.code, problem.message) == ("M401", "space `huge` has 21 address bits; 20 are the most")
    (problem,) = map_space(netlist, Space("odd", nets[:4], nets[:8], (decoder,))).problems
    assert (problem.code, problem.message) == ("M402", "74HCT138 U1 is not a memory whose pins can be followed")


def test_bank_settings_show_other_halves_of_one_chip() -> None:
    """Two spaces over one chip; the level of a register's output is a setting, and decides through a decoder too."""
    m = Machine("banked", family="HCT")
    address, data, code = m.bus("address", 11), m.bus("data", 8), m.bus("code", 8)
    held = m.chip("377", CLK=m.clock("1M"), G_n=LOW, D=code).Q
    chosen = m.chip("138", S=[held[1], LOW, LOW], G1=HIGH, G2A_n=LOW, G2B_n=LOW).Y
    big = m.chip("28C64", A=[*address, held[0], LOW], D=data, CE_n=chosen[0], OE_n=LOW, WE_n=HIGH)
    other = m.chip("28C16", A=address, D=data, CE_n=chosen[1], OE_n=LOW, WE_n=HIGH)
    settings = {"one": (0, 0), "two": (1, 0), "three": (0, 1)}
    for name, (low, high) in settings.items():
        m.space(name, address=address, data=data, chips=[other if high else big], when={held[0]: low, held[1]: high})
    netlist, spaces = m.netlist(), m.statements().spaces
    found = [map_space(netlist, space) for space in spaces]
    assert not [problem for each in found for problem in each.problems]
    placed = [(each.space.name, each.regions, {5: 0x10 + number}) for number, each in enumerate(found)]
    images = images_for(placed)
    chips = netlist.chip_named
    used = {chip: {cell: byte for cell, byte in enumerate(image) if byte != 0xFF} for chip, image in images.items()}
    first, second = (netlist.chips[space.chips[0]].reference for space in (spaces[0], spaces[2]))
    assert used == {chips[first]: {5: 0x10, 0x805: 0x11}, chips[second]: {5: 0x12}}
    assert [words_of(each.regions, images)[5] for each in found] == [0x10, 0x11, 0x12]


def test_a_chip_of_another_bank_answers_nowhere() -> None:
    m = Machine("banked", family="HCT")
    address, data, bank = m.bus("address", 11), m.bus("data", 8), m.line("bank")
    rom = m.chip("28C16", A=address, D=data, CE_n=bank, OE_n=LOW, WE_n=HIGH)
    m.space("hidden", address=address, data=data, chips=[rom], when={bank: HIGH})
    (problem,) = mapped(m).problems
    assert (problem.code, problem.message) == ("M404", "28C16 U1 answers at no address of `hidden`")


def test_one_cell_in_two_spaces() -> None:
    """Settings that do not reach the chip show the same cells twice."""
    m = Machine("banked", family="HCT")
    address, data, bank = m.bus("address", 11), m.bus("data", 8), m.line("bank")
    rom = m.chip("28C16", A=address, D=data, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    for name, level in (("one", LOW), ("two", HIGH)):
        m.space(name, address=address, data=data, chips=[rom], when={bank: level})
    netlist = m.netlist()
    regions = [map_space(netlist, space).regions for space in m.statements().spaces]
    assert images_for([("one", regions[0], {3: 7}), ("two", regions[1], {3: 7, 4: 8})])
    with pytest.raises(LatchworkError) as caught:
        images_for([("one", regions[0], {3: 7}), ("two", regions[1], {3: 8})])
    assert str(caught.value) == (
        "M408 $3 of `one` and $3 of `two` are one cell of a chip, and the program wants two words there "
        "(the chip's decoding leaves address bits out; bank settings choose between spaces)"
    )
