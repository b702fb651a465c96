"""Fuse files against JESD3's own examples, and back from what was written.

Outside checks: the two worked examples of the standard, fuse checksums 019E and 124E (JEDEC Standard No. 3-A, in the
text that Data I/O published, and in its ProMaster 2500 user manual, appendix D, "Translation Formats").
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from latchwork.base.position import Position
from latchwork.fuses.errors import CODES
from latchwork.fuses.file import FuseFile, fuse_checksum, read, transmission_checksum, written
from latchwork.problems import LatchworkError

SMALL = "\x02*F0*QF1004*L0 01010101* L0008 01010111* L1000 0101*C019E*\x03"
DECODER = """\x02File for PLD 12S8
6809 memory decode *
QP20* QF448* QV8*
F0* X0*
L00 1111101111111111111111111111*
L28 1011111111111111111111111111*
L56 1110111111111111111111111111*
L112 0101011101111011111111111111*
L224 0101011110111011111111111111*
L336 0101011101110111111111111111*
V0001 000000XXXNXXXHHHLXXN*
V0002 010000XXXNXXXHHHLXXN*
C124E*\x030000"""


def test_the_first_example_of_the_standard() -> None:
    fuses = read(SMALL, "small").fuses
    assert fuses[:16] == "0101010101010111"
    assert fuses[16:] == "0" * (1000 - 16) + "0101"
    assert fuse_checksum(fuses) == 0x019E


def test_hexadecimal_lists_say_the_same() -> None:
    assert read("\x02*F0*QF1004*K0 55*K0008 57*K1000 5*C019E*\x03", "small").fuses == read(SMALL, "small").fuses


def test_the_second_example_of_the_standard() -> None:
    file = read(DECODER, "decoder")
    assert (len(file.fuses), file.pins, len(file.vectors)) == (448, 20, 2)
    assert fuse_checksum(file.fuses) == 0x124E
    assert file.header == "File for PLD 12S8\n6809 memory decode"


def test_characters_from_start_to_end_are_summed() -> None:
    assert transmission_checksum("\x02*\x03") == 0x02 + 0x2A + 0x03
    text = written(FuseFile("1"))
    body, said = text.split("\x03")
    assert int(said, 16) == sum(map(ord, body)) + 3


REFUSED = [
    ("F101", "^QF8*"),
    ("F102", "\x02ab^"),
    ("F102", "\x02a*^QF8"),
    ("F102", "\x02a*QF8*F0*^"),
    ("F103", "\x02a*QF8*\nF0*  ^Y1*\x03"),
    ("F104", "\x02a*\n^QX8*\x03"),
    ("F104", "\x02a*\n^QF70000*\x03"),
    ("F104", "\x02a*QF8*\n  ^F2*\x03"),
    ("F104", "\x02a*QF8*\nF0*L0 01^x*\x03"),
    ("F104", "\x02a*\n^L0 01*\x03"),
    ("F104", "\x02a*QF8*\nF0*^C12*\x03"),
    ("F104", "\x02a*QF8*\nF0*^V1 A*\x03"),
    ("F104", "\x02a*QF8*\nF0*^G2*\x03"),
    ("F104", "\x02a*QF8*\nF0*^K0 0G*\x03"),
    ("F104", "\x02a*QF8*\nF0*\x03^hello"),
    ("F105", "\x02a*QF2*\nL1 0^0001*\x03"),
    ("F106", "\x02a*QF2*\nL0 01*L1 ^0*\x03"),
    ("F107", "\x02a*QF8*\x03^"),
    ("F107", "\x02a*\x03^"),
    ("F108", "\x02a*QF8*\nF0*^C0001*\x03"),
    ("F109", "\x02a*QF8*\nF0*\x03^0001"),
    ("F110", "\x02a*QF8*QP3*\nF0*^V1 00*\x03"),
]


@pytest.mark.parametrize(("code", "marked"), REFUSED)
def test_a_broken_file_is_refused_where_it_breaks(code: str, marked: str) -> None:
    before, _, after = marked.partition("^")
    with pytest.raises(LatchworkError) as caught:
        read(before + after, "some.jed")
    (problem,) = caught.value.problems
    place = Position("some.jed", before.count("\n") + 1, len(before.rpartition("\n")[2]) + 1)
    assert (problem.code, problem.position) == (code, place), problem.message
    assert problem.code in CODES


@given(st.text(alphabet="\x02\x03*QFLCGVNPK019AX \n", max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        file = read("\x02*" + text, "any")
    except LatchworkError:
        return
    assert set(file.fuses) <= {"0", "1"}


notes = st.lists(st.from_regex(r"[A-Za-z0-9]{1,8}( [a-z]{1,8}){0,2}", fullmatch=True), max_size=3)
files = st.builds(
    FuseFile,
    fuses=st.text(alphabet="01", min_size=1, max_size=300),
    pins=st.just(4),
    header=st.from_regex(r"[A-Za-z0-9]{0,12}", fullmatch=True),
    notes=notes.map(tuple),
    vectors=st.lists(st.text(alphabet="01XZHLCN", min_size=4, max_size=4), max_size=3).map(tuple),
    secured=st.booleans(),
)


@given(files)
def test_what_is_written_is_read_back(file: FuseFile) -> None:
    assert read(written(file), "round") == file


@given(files, st.data())
def test_a_changed_fuse_is_noticed(file: FuseFile, data: st.DataObject) -> None:
    """One fuse that flips changes the sum, whichever it is."""
    at = data.draw(st.integers(0, len(file.fuses) - 1))
    flipped = file.fuses[:at] + ("0" if file.fuses[at] == "1" else "1") + file.fuses[at + 1 :]
    text = written(file).replace(f"C{fuse_checksum(file.fuses):04X}*", f"C{fuse_checksum(flipped):04X}*")
    with pytest.raises(LatchworkError, match=r"F108|F109"):
        read(text[: text.index("\x03") + 1], "changed")
