"""Every message about image files, in full."""

from pathlib import Path

import pytest
from rom_machine import model

from latchwork.model import Model
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain_all
from latchwork.tools.images.chips import rom_named, some_roms
from latchwork.tools.images.errors import TITLES
from latchwork.tools.images.readback import verify
from latchwork.tools.images.reader import image_from, read_image

AGAIN = "read the chip again, or write the file again"
MESSAGES = [
    (
        "a.hex",
        "x:00000001FF",
        'a.hex:1:1: I101 a record begins with ":" or "S", here stands "x" (take out lines that are no records)',
    ),
    ("a.hex", ":0100000055AA\n:00z00001FF", 'a.hex:2:4: I101 "z" is no hexadecimal digit'),
    ("a.hex", ":00000001F", f"a.hex:1:10: I102 the record ends in the middle of a byte ({AGAIN})"),
    ("a.hex", ":", f"a.hex:1:1: I102 the record breaks off before its checksum ({AGAIN})"),
    ("a.hex", ":0200000055A9", f"a.hex:1:1: I102 the record breaks off: it says 2 bytes, 1 stand here ({AGAIN})"),
    ("a.hex", ":0000000055AB", f"a.hex:1:1: I102 the record is too long: it says 0 bytes, 1 stand here ({AGAIN})"),
    ("a.s19", "S105000AF0", f"a.s19:1:1: I102 the record breaks off: it says 5 bytes, 3 stand here ({AGAIN})"),
    ("a.s19", "S1020AF3", f"a.s19:1:1: I102 the record has no room for its address of 2 bytes ({AGAIN})"),
    (
        "a.hex",
        ":0100000055AB\n:00000001FF",
        f"a.hex:1:12: I103 the checksum is AB, the bytes of the record give AA (a byte of this line is wrong; {AGAIN})",
    ),
    (
        "a.s19",
        "S10400000AF0\nS9030000FC",
        f"a.s19:1:11: I103 the checksum is F0, the bytes of the record give F1 (a byte of this line is wrong; {AGAIN})",
    ),
    (
        "a.hex",
        ":00000006FA",
        "a.hex:1:8: I104 record type 06 with 0 bytes does not exist (types run from 00 (data) to 05)",
    ),
    ("a.s19", "S4030000FC", 'a.s19:1:2: I104 there is no record "S4" (S0 to S3 and S5 to S9 exist)'),
    ("a.hex", ":0100000055AA\n", f"a.hex:1: I106 the file breaks off: it has no end record ({AGAIN})"),
    (
        "a.hex",
        ":020000040800F2\n:0100000055AA\n:00000001FF",
        "a.hex:2:1: I107 the record lies at address 8000000, beyond the last of the largest ROM, FFFFF "
        "(addresses start at 0)",
    ),
    ("a.hex", ":00000001FF", "a.hex: I108 the file holds no bytes (read the chip again, or name another file)"),
    ("a.bin", "", "a.bin: I108 the file holds no bytes (read the chip again, or name another file)"),
    (
        "a.s19",
        "S10400000AF1\nS5030003F9\nS9030000FC",
        f"a.s19:2:5: I109 the count record counts 3 data records, 1 stand above ({AGAIN})",
    ),
    (
        "a.hex",
        ":0100000055AA\n:00000001FF\n:0100000055AA",
        "a.hex:3:1: I111 something stands behind the end record (the end record is the last line)",
    ),
]


@pytest.mark.parametrize(("name", "text", "message"), MESSAGES)
def test_messages_of_files(name: str, text: str, message: str) -> None:
    with pytest.raises(LatchworkError) as raised:
        image_from(text.encode(), name)
    assert str(raised.value) == message


def test_overlapping_records_name_both_lines() -> None:
    with pytest.raises(LatchworkError) as raised:
        image_from(b":02000000AABB99\n:0100010055A9\n:00000001FF", "a.hex")
    assert plain_all(raised.value.problems) == (
        "I105 two records hold address 1\n  a.hex:2:1   here again\n  a.hex:1:1   already here\n"
        "help: take one of them out"
    )


def test_several_problems_are_told_at_once_but_not_without_end() -> None:
    with pytest.raises(LatchworkError) as raised:
        image_from(b":zz\n" * 1000, "a.hex")
    assert len(raised.value.problems) == 20


def test_too_large_a_binary() -> None:
    with pytest.raises(LatchworkError) as raised:
        image_from(bytes(2**20 + 1), "a.bin")
    assert str(raised.value) == (
        "a.bin: I107 the file holds more than 1048576 bytes, the most that a ROM has "
        "(read the chip again, or name another file)"
    )


def test_a_file_that_is_not_there() -> None:
    with pytest.raises(LatchworkError) as raised:
        read_image(Path("nowhere.bin"))
    assert str(raised.value) == (
        "nowhere.bin: I110 this can't be read: no such file or directory (name a file that was written or read back)"
    )


def failure_of_verify(path: Path, chip: str = "") -> str:
    with pytest.raises(LatchworkError) as raised:
        verify(model(), path, chip)
    return str(raised.value).replace(str(path), "FILE")


def test_sizes_that_do_not_fit(tmp_path: Path) -> None:
    (tmp_path / "odd.bin").write_bytes(b"123")
    assert failure_of_verify(tmp_path / "odd.bin") == (
        "FILE: I120 the file holds 3 bytes, and no ROM with contents has that size (the ROMs have: U1 2048, U2 2048)"
    )
    assert failure_of_verify(tmp_path / "odd.bin", "U1") == (
        "FILE: I120 the file holds 3 bytes, U1 (28C16) has 2048 (read the whole chip, from address 0)"
    )


def test_no_such_rom() -> None:
    with pytest.raises(LatchworkError) as raised:
        rom_named(model(), "U3")
    assert str(raised.value) == 'I122 the machine has no ROM "U3" (its ROMs: U1, U2)'


def test_no_rom_with_contents() -> None:
    machine = model()
    with pytest.raises(LatchworkError) as raised:
        some_roms(Model(machine.folder, machine.netlist))
    assert str(raised.value) == (
        "I121 no ROM of this machine has contents "
        "(a microprogram, a table, an image or a program gives contents to a ROM)"
    )


def test_every_code_of_files_has_its_case() -> None:
    cases = {message.split()[1] for _, _, message in MESSAGES} | {"I105", "I110", "I120", "I121", "I122"}
    assert cases >= {code for code in TITLES if code < "I123"}
