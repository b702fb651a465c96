"""Fuse files against JESD3's own examples, and back from what was written.

Outside checks: the two worked examples of the standard, fuse checksums 019E and 124E (JEDEC Standard No. 3-A, in the
text that Data I/O published, and in its ProMaster 2500 user manual, appendix D, "Translation Formats").
"""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

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


def cases():
    """(text, full message) of every way to be broken: mistakes/fuse_files.txt."""
    file = Path(__file__).parent / "mistakes" / "fuse_files.txt"
    for block in re.split(r"^== ", file.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]:
        title, _, rest = block.partition("\n")
        text, _, message = rest.partition("\n-- says\n")
        yield pytest.param(text.replace("<STX>", "\x02").replace("<ETX>", "\x03"), message.strip(), id=title)


@pytest.mark.parametrize(("text", "message"), list(cases()))
def test_a_broken_file_is_refused_where_it_breaks(text: str, message: str) -> None:
    with pytest.raises(LatchworkError) as caught:
        read(text, "some.jed")
    assert str(caught.value) == message


def test_every_code_of_fuses_has_its_letter() -> None:
    assert {code[0] for code in CODES} == {"F"}


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
