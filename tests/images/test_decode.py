"""A control image told in lines. The machine's wiring is crossed on purpose; the image is built here, address by
address, from what each line shall be."""

from pathlib import Path

import pytest

from latchwork import HIGH, LOW, OPEN, Machine
from latchwork.model import ControlProgram, MicroprogramBinding, Model, Row, Statements
from latchwork.problems import LatchworkError
from latchwork.tools.images.decode import decode

# Bits of the first chip: 0-2 a code for the decoder, 3 acc_take_n itself, 7 pc_advance. Of the second: 0 carry_use.
STEPS = [
    ("load", 0, 0b0000_1001, 0b0),  # code 1: first shows
    ("load", 1, 0b1000_0010, 0b0),  # code 2: second shows; acc takes; pc advances
    ("add", 0, 0b0000_1000, 0b1),  # the other chip: carry used
]


def described() -> Model:
    m = Machine("crossed")
    clock, reset_n = m.clock(1_000_000), m.power_on_reset()
    opcode, step = m.bus("opcode", 2), m.bus("step", 1)
    shows = [m.line(name) for name in ("first_show_n", "second_show_n")]
    acc_take_n, pc_advance, carry_use = m.line("acc_take_n"), m.line("pc_advance"), m.line("carry_use")
    with m.board("control"):
        address = [step[0], LOW, opcode[1], HIGH, opcode[0], *[LOW] * 6]
        low = m.chip("28C16", label="low", A=address, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
        high = m.chip("28C16", label="high", A=address[::-1], CE_n=LOW, OE_n=LOW, WE_n=HIGH)
        code = m.bus("code", 3)
        m.chip("273", CLK=clock, CLR_n=reset_n, D=low.D, Q=[*code, acc_take_n, OPEN, OPEN, OPEN, pc_advance])
        m.chip("273", CLK=clock, CLR_n=reset_n, D=high.D, Q=[carry_use, *[OPEN] * 7])
        m.chip("138", S=code, G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=[OPEN, *shows, *[OPEN] * 5])
    netlist = m.netlist()
    chips = tuple(chip for chip in range(len(netlist.chips)) if netlist.part_of(chip).name == "28C16")
    words = (*netlist.nets_of(chips[0], "D"), *netlist.nets_of(chips[1], "D"))
    nets = (*netlist.bus_named["opcode"].nets, netlist.bus_named["step"].nets[0])
    rows, images = [], (bytearray(b"\xff" * 2048), bytearray(b"\xff" * 2048))
    for block, number, first, second in STEPS:
        opcode_bits = {"load": 1, "add": 2}[block]
        rows.append(Row(block, number, (), (opcode_bits | number << 2,), first | second << 8, ()))
        # A0 step, A2 opcode 1, A3 high, A4 opcode 0; on the second chip A10 to A6.
        images[0][number | (opcode_bits >> 1) << 2 | 8 | (opcode_bits & 1) << 4] = first
        images[1][number << 10 | (opcode_bits >> 1) << 8 | 1 << 7 | (opcode_bits & 1) << 6] = second
    binding = MicroprogramBinding("crossed.micro", chips, netlist.bus_named["opcode"].nets)
    control = ControlProgram("steps", nets, words, (), tuple(rows), (), dont_care=0x70)
    contents = {chip: bytes(image) for chip, image in zip(chips, images, strict=True)}
    return Model(Path(), netlist, Statements(microprogram=binding), control, contents)


MODEL = described()
LOW_ROM, HIGH_ROM = (MODEL.netlist.chips[chip].reference for chip in MODEL.contents)


def image(reference: str) -> bytes:
    return MODEL.contents[MODEL.netlist.chip_named[reference]]


def decoded(tmp_path: Path, content: bytes, chip: str = "", name: str = "back.bin"):
    (tmp_path / name).write_bytes(content)
    return decode(MODEL, tmp_path / name, chip)


def test_a_good_image_gives_lines_through_register_and_decoder(tmp_path: Path) -> None:
    found = decoded(tmp_path, image(LOW_ROM))
    assert (found.reference, found.differing) == (LOW_ROM, 0)
    assert found.decided == ("acc_take", "first_show", "pc_advance", "second_show")
    assert [(row.block, row.step, row.address, row.lines) for row in found.rows] == [
        ("load", 0, 0b1_1000, ("first_show",)),
        ("load", 1, 0b1_1001, ("second_show", "acc_take", "pc_advance")),
        ("add", 0, 0b0_1100, ()),
    ]


def test_the_other_chip_tells_its_own_lines(tmp_path: Path) -> None:
    found = decoded(tmp_path, image(HIGH_ROM))
    assert found.reference == HIGH_ROM
    assert found.decided == ("carry_use",)
    assert [row.lines for row in found.rows] == [(), (), ("carry_use",)]


def test_a_changed_byte_is_told_with_what_it_should_be(tmp_path: Path) -> None:
    content = bytearray(image(LOW_ROM))
    content[0b1_1001] ^= 0b1000_0001
    found = decoded(tmp_path, bytes(content), LOW_ROM)
    assert found.differing == 1
    row = found.rows[1]
    assert not row.same
    assert row.lines == ("acc_take",)
    assert row.should == ("second_show", "acc_take", "pc_advance")


def test_bits_that_nothing_depends_on_do_not_count(tmp_path: Path) -> None:
    content = bytearray(image(LOW_ROM))
    content[0b1_1001] ^= 0x70
    assert decoded(tmp_path, bytes(content), LOW_ROM).differing == 0


def failure(action) -> str:
    with pytest.raises(LatchworkError) as raised:
        action()
    return str(raised.value)


def test_messages(tmp_path: Path) -> None:
    path = tmp_path / "back.bin"
    assert failure(lambda: decoded(tmp_path, b"123")) == (
        f"{path}: I120 the file holds 3 bytes, which is the size of no chip of the control store "
        f"(sizes: {LOW_ROM} 2048, {HIGH_ROM} 2048)"
    )
    assert failure(lambda: decode(Model(Path(), MODEL.netlist), path)) == (
        "I124 this machine has no microprogram (only the images of a control store can be told in instructions)"
    )
    program = MicroprogramBinding("a", (MODEL.netlist.chip_named[LOW_ROM],), ())
    other = Model(Path(), MODEL.netlist, Statements(microprogram=program), MODEL.control, MODEL.contents)
    assert failure(lambda: decode(other, path, HIGH_ROM)) == (
        f"I123 {HIGH_ROM} does not belong to the control store (its chips: {LOW_ROM})"
    )
