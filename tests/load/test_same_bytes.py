"""Chips that share an image, and memories that are filled from ROM. Outside reference: common practice; the expected
bytes are worked out here by plain slices."""

import random
from pathlib import Path

import pytest

import latchwork
from latchwork import HIGH, LOW, OPEN, Machine
from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.load.model import checked, load_model
from latchwork.load.saved import open_saved, saved
from latchwork.model import Model
from latchwork.problems import LatchworkError
from latchwork.tools.images.chips import empty_roms, rom_named, roms
from latchwork.tools.run.running import Running

BYTES = random.Random(5).randbytes(0x8000)


def model_of(m: Machine, **contents: bytes) -> Model:
    netlist = m.netlist()
    by_chip = {netlist.chip_named[name]: content for name, content in contents.items()}
    return Model(Path(), netlist, m.statements(), contents=by_chip)


def by_name(model: Model, found: dict[int, bytes]) -> dict[str, bytes]:
    return {model.netlist.chips[chip].reference: content for chip, content in found.items()}


def said(action) -> str:
    with pytest.raises(LatchworkError) as caught:
        action()
    (problem,) = caught.value.problems
    return f"{problem.code} {problem.message}"


# ---- one image in several sockets


def sockets(levels: tuple[object, object] = (LOW, HIGH), pins: int = 8) -> Machine:
    """Two 28C64; in each socket the highest address pins are on these rails. ``pins``: data pins of U1 in use."""
    m = Machine("sockets")
    address, data = m.bus("address", 11), m.bus("data", 16)
    wires = [[*data[0:pins], *[OPEN] * (8 - pins)], data[8:16]]
    chips = [
        m.chip("28C64", A=[*address, level, LOW], D=wire, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
        for level, wire in zip(levels, wires, strict=True)
    ]
    m.share_image(*chips)
    return m


def test_each_socket_reads_its_part() -> None:
    one, two = BYTES[:0x2000], BYTES[0x2000:0x4000]
    model = model_of(sockets(), U1=one[:0x800], U2=b"\xff" * 0x800 + two[0x800:0x1000])
    found = by_name(model, rom_bytes(model))
    assert found["U1"] == found["U2"] == one[:0x800] + two[0x800:0x1000] + b"\xff" * 0x1000
    assert [rom.holds for rom in roms(model)] == ["program, same image as U2", "program, same image as U1"]


def test_a_chip_without_contents_takes_the_other_s() -> None:
    model = model_of(sockets(), U2=BYTES[:0x2000])
    assert by_name(model, rom_bytes(model)) == {"U1": BYTES[:0x2000], "U2": BYTES[:0x2000]}
    assert empty_roms(model) == ()
    assert rom_named(model, "U1").content == BYTES[:0x2000]
    assert rom_bytes(model_of(sockets())) == {}


def test_bits_that_nobody_is_joined_to_are_free() -> None:
    model = model_of(sockets((LOW, LOW), pins=4), U1=b"\xa5" * 4, U2=b"\x35" * 4)
    assert rom_bytes(model)[model.netlist.chip_named["U1"]][:5] == b"\x35" * 4 + b"\xff"


def test_chips_that_need_different_bytes() -> None:
    one = bytearray(BYTES[:0x800])
    two = bytearray(one)
    two[0x123] ^= 0x40
    two[0x7FF] ^= 0x01
    model = model_of(sockets((LOW, LOW)), U1=bytes(one), U2=bytes(two))
    both = f"{one[0x123]:02X} for 28C64 U1 and {two[0x123]:02X} for 28C64 U2"
    message = f"M409 the shared image would hold {both} at its address 123, and differ in 2 places"
    assert said(lambda: checked(model)) == message


def test_an_erased_byte_within_reach_counts() -> None:
    """Whether a fill byte is read can't be told, so that it must be equal too."""
    model = model_of(sockets((LOW, LOW)), U1=b"\x12", U2=b"\x12\x34")
    assert said(lambda: rom_bytes(model)).endswith("FF for 28C64 U1 and 34 for 28C64 U2 at its address 1")


# ---- filled at the start


def boot(simulated: bool = False, start: int = 0, targets: int = 1) -> Machine:
    """A 28C16 whose bytes a counter writes into RAM, cell by cell, while the clock is low, if that is simulated."""
    m = Machine("boot")
    clock, reset_n = m.clock("1M"), m.power_on_reset()
    count, data = m.bus("count", 4), m.bus("data", 8)
    m.chip("161", CLK=clock, CLR_n=reset_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=count, RCO=OPEN)
    write_n = clock if simulated else HIGH
    rom = m.chip("28C64", A=[*count, *[LOW] * 9], D=data, CE_n=LOW, OE_n=LOW, WE_n=HIGH, label="rom")
    rams = [m.chip("6116", A=[*count, *[LOW] * 7], D=data, CE_n=LOW, OE_n=HIGH, WE_n=write_n) for _ in range(targets)]
    m.copied(rom, rams, start=start, simulated=simulated)
    return m


def cells(running: Running, reference: str) -> bytes:
    return bytes(running.memory[reference][0:16])


def test_what_is_copied_is_there_at_power_up() -> None:
    assert cells(Running(model_of(boot(start=0x100), U3=BYTES[:0x2000])), "U4") == BYTES[0x100:0x110]


def test_described_hardware_copies_by_itself() -> None:
    running = Running(model_of(boot(simulated=True), U3=BYTES[:0x2000]))
    assert cells(running, "U4") != BYTES[:16]
    running.step_clock(24)
    assert cells(running, "U4") == BYTES[:16]


def test_contents_of_the_target_are_written_into_the_source() -> None:
    """Several targets stand one after the other; the rest of the source stays what it was."""
    one, two = BYTES[:0x800], BYTES[0x800:0x900]
    model = model_of(boot(start=0x400, targets=2), U3=b"\x01\x02", U4=one, U5=two)
    image = b"\x01\x02".ljust(0x400, b"\xff") + one + two.ljust(0x800, b"\xff")
    assert by_name(model, rom_bytes(model)) == {"U3": image.ljust(0x2000, b"\xff")}
    awake = by_name(model, waking_bytes(model, rom_bytes(model)))
    assert (awake["U4"], awake["U5"]) == (one, two.ljust(0x800, b"\xff"))


def test_several_sources_stand_one_after_the_other() -> None:
    m = Machine("long")
    chips = [m.chip("28C16") for _ in range(2)]
    m.copied(chips, m.chip("6116"), start=0x400)
    model = model_of(m, U3=BYTES[:0x800])
    found = by_name(model, rom_bytes(model))
    assert found["U1"] + found["U2"] == b"\xff" * 0x400 + BYTES[:0x800] + b"\xff" * 0x400


def test_a_source_that_is_to_hold_something_else() -> None:
    model = model_of(boot(), U3=b"\xff\x12", U4=b"\x34\x56")
    assert said(lambda: checked(model)) == (
        "M410 byte 1 of 28C64 U3 is 12 by another statement, and 56 for 6116 U4, which is filled from there"
    )


def test_a_control_store_that_forgets() -> None:
    m = Machine("forgetful")
    ram = m.chip("6116")
    m.microprogram("any.micro", store=[ram], opcode=m.bus("code", 8), fetch_address=5)
    assert m.statements().microprogram.fetch_address == 5  # type: ignore[union-attr]
    assert said(lambda: checked(model_of(m))) == "M111 6116 U1 holds the microprogram and forgets it without power"
    m.copied(m.chip("28C16"), ram)
    assert checked(model_of(m))


def test_saved_models_keep_what_was_stated(tmp_path: Path) -> None:
    model = model_of(boot(simulated=True), U3=BYTES[:16])
    path = tmp_path / "boot.latchwork"
    path.write_bytes(saved(model))
    assert open_saved(path).statements == model.statements
    assert rom_bytes(open_saved(path)) == rom_bytes(model)


# ---- paths


def test_machines_are_opened_by_text_and_by_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "machine.py").write_text('from latchwork import Machine\nm = Machine("wren")\nm.clock("1M")\n')
    for opened in (load_model("."), load_model(tmp_path), load_model("machine.py"), latchwork.load(".").model):
        assert opened.netlist.name == "wren"
    Path("wren.latchwork").write_bytes(saved(load_model(".")))
    assert latchwork.load("wren.latchwork").model.netlist.name == load_model("wren.latchwork").netlist.name == "wren"


@pytest.mark.parametrize("opened", [load_model, latchwork.load])
def test_a_folder_that_is_not_there(opened, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for path in ("nowhere", Path("nowhere")):
        assert said(lambda path=path: opened(path)) == 'M101 there is no "nowhere"'
    assert said(lambda: opened("gone.latchwork")) == (
        "M110 this is not a saved model: it can't be read: no such file or directory"
    )
