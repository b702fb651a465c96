"""Image files, written and read back. `intelhex` (Intel HEX) and `bincopy` (both) read what is written; records of
the format documents stand in tests/data/record_examples.json with their sources."""

import io
import json
import re
import zlib
from contextlib import suppress
from pathlib import Path

import pytest
from bincopy import BinFile
from hypothesis import given
from hypothesis import strategies as st
from intelhex import IntelHex
from rom_machine import model

from latchwork.problems import LatchworkError
from latchwork.tools.images.formats import FORMATS, intel_hex, s_records
from latchwork.tools.images.reader import image_from
from latchwork.tools.images.records import read_records
from latchwork.tools.images.report import report
from latchwork.tools.images.written import image_files

EXAMPLES = json.loads((Path(__file__).parent.parent / "data/record_examples.json").read_text())
contents = st.binary(min_size=1, max_size=700)


def example(item: str, quantity: str) -> str:
    (found,) = [row["value"] for row in EXAMPLES if (row["item"], row["quantity"]) == (item, quantity)]
    return str(found)


def test_crc_32_is_that_of_the_catalogue() -> None:
    assert zlib.crc32(b"123456789") == int(example("CRC-32", "check('123456789')"), 16)


def first_word(quantity: str, item: str = "Intel HEX") -> str:
    return example(item, quantity).split()[0]


def test_worked_intel_records() -> None:
    text = f"{first_word('example')}\n{first_word('example type 04')}\n:0100000055AA\n{first_word('end of file')}\n"
    records = read_records(text, "a")
    assert records.problems == []
    assert records.ended
    assert [(piece.address, piece.content) for piece in records.pieces] == [
        (0x0030, bytes([0x02, 0x33, 0x7A])),
        (0x0800_0000, b"\x55"),
    ]


def test_worked_s_records() -> None:
    motorola = "Motorola S-record"
    data = "S10400000AF1\n" * 3
    text = f"{first_word('example S0', motorola)}\n{data}{first_word('example S5', motorola)}\nS9030000FC\n"
    records = read_records(text, "a")
    assert records.problems == []
    assert records.ended
    assert [piece.content for piece in records.pieces] == [b"\x0a"] * 3


def test_end_records_are_those_of_the_documents() -> None:
    assert intel_hex(b"1").splitlines()[-1].decode() == first_word("end of file")
    assert s_records(b"1").splitlines()[-1].decode() == first_word("example S9", "Motorola S-record")


@given(contents)
def test_intelhex_reads_what_is_written(content: bytes) -> None:
    read = IntelHex(io.StringIO(intel_hex(content).decode()))
    assert read.tobinstr() == content
    assert read.minaddr() == 0


@given(contents)
def test_bincopy_reads_what_is_written(content: bytes) -> None:
    for written, add in ((intel_hex, BinFile.add_ihex), (s_records, BinFile.add_srec)):
        read = BinFile()
        add(read, written(content).decode())
        assert bytes(read.as_binary()) == content


@given(contents, st.sampled_from(sorted(FORMATS)))
def test_every_format_reads_back(content: bytes, end: str) -> None:
    assert image_from(FORMATS[end](content), f"a.{end}") == content


@pytest.mark.parametrize("end", ["hex", "s19"])
def test_large_images_cross_64_kib(end: str) -> None:
    content = bytes(range(251)) * 300
    written = FORMATS[end](content)
    assert image_from(written, f"a.{end}") == content
    other = BinFile()
    other.add(written.decode())
    assert bytes(other.as_binary()) == content


@given(contents)
def test_the_kind_is_found_without_a_name(content: bytes) -> None:
    for end in ("hex", "s19"):
        assert image_from(FORMATS[end](content), "chip") == content


@given(st.binary(min_size=1, max_size=300), st.sampled_from(["a.bin", "a.hex", "a.s19", "a"]))
def test_any_bytes_give_an_image_or_a_problem(content: bytes, name: str) -> None:
    with suppress(LatchworkError):
        assert image_from(content, name)


@given(st.data(), st.binary(min_size=20, max_size=80), st.sampled_from(["hex", "s19"]))
def test_one_wrong_byte_never_passes_unseen(data: st.DataObject, content: bytes, end: str) -> None:
    written = bytearray(FORMATS[end](content))
    at = data.draw(st.integers(0, len(written) - 1))
    written[at] = data.draw(st.integers(0, 255).filter(lambda value: value != written[at]))
    with suppress(LatchworkError):
        # What still reads is harmless: another way of writing a line end or a digit, or another kind of record
        # that does not carry data.
        read = image_from(bytes(written), f"a.{end}")
        assert read == content or chr(written[at]) in "013456789\n\r"


def test_same_model_same_files() -> None:
    one, other = model(), model()
    assert image_files(one, report(one)) == image_files(other, report(other))


def test_files_of_a_machine() -> None:
    machine = model()
    files = image_files(machine, report(machine))
    assert sorted(files) == [
        "labels.html",
        "labels.txt",
        "program_board-U2-28C16.bin",
        "program_board-U2-28C16.hex",
        "program_board-U2-28C16.s19",
        "sequencer-U1-28C16.bin",
        "sequencer-U1-28C16.hex",
        "sequencer-U1-28C16.s19",
    ]
    # What the machine's ROM does not say is erased: all ones (common practice).
    assert files["program_board-U2-28C16.bin"][1024:] == b"\xff" * 1024
    for name in ("sequencer-U1-28C16", "program_board-U2-28C16"):
        assert IntelHex(io.StringIO(files[f"{name}.hex"].decode())).tobinstr() == files[f"{name}.bin"]


def test_report_of_a_machine() -> None:
    machine = model()
    found = report(machine)
    first, second = found.chips
    assert (first.reference, first.part, first.board, first.file) == ("U1", "28C16", "sequencer", "sequencer-U1-28C16")
    assert (first.size, first.fill, first.holds) == (2048, 0xFF, "program")
    assert first.crc32 == zlib.crc32(machine.contents[machine.netlist.chip_named["U1"]])
    assert second.used <= 1024
    assert found.empty == ("U4",)


def test_labels() -> None:
    machine = model()
    files = image_files(machine, report(machine))
    crc = f"{report(machine).chips[0].crc32:08X}"
    assert (
        files["labels.txt"]
        .decode()
        .startswith(
            "+-------------------------+\n"
            "| U1  28C16               |\n"
            "| two_roms: sequencer.low |\n"
            "| program                 |\n"
            "| 2048 bytes, fill FF     |\n"
            f"| CRC-32 {crc}         |\n"
            "+-------------------------+\n"
        )
    )
    page = files["labels.html"].decode()
    assert page.count("<section>") == 2
    assert crc in page
    assert not re.search(r"(src|href)=", page)


def test_since_a_folder(tmp_path: Path) -> None:
    machine = model()
    files = image_files(machine, report(machine), ["hex"])
    (tmp_path / "sequencer-U1-28C16.hex").write_bytes(files["sequencer-U1-28C16.hex"])
    before = report(machine, tmp_path)
    assert [(chip.reference, chip.burn, chip.differing) for chip in before.chips] == [
        ("U1", "keep", 0),
        ("U2", "new", 0),
    ]
    changed = bytearray(machine.contents[machine.netlist.chip_named["U1"]])
    for address in (3, 500, 2000):
        changed[address] ^= 1
    after = report(machine.with_contents({machine.netlist.chip_named["U1"]: bytes(changed)}), tmp_path)
    assert (after.chips[0].burn, after.chips[0].differing) == ("again", 3)
