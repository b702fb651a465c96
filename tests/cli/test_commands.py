"""Commands called as a person calls them, with their exit status and what they print."""

import errno
import json
import shutil
import zlib
from pathlib import Path

import pytest

from latchwork import __version__
from latchwork.cli import main as program
from latchwork.cli.errors import TITLES
from latchwork.load.machine import read_machine


def test_help_names_every_command(call) -> None:
    status, out, _ = call("--help")
    assert status == 0
    assert all(f"\n  {name}" in out for name in program.SUMMARIES)
    assert call() == (0, out, "")


@pytest.mark.parametrize("name", program.SUMMARIES)
def test_every_command_has_help_and_json(call, name: str) -> None:
    status, out, _ = call(name, "--help")
    assert status == 0
    assert out.startswith(f"Usage: latchwork {name}")
    assert "--json" in out


def test_version(call) -> None:
    assert call("--version") == (0, f"Latchwork {__version__}\n", "")


CALLS = [
    (
        ["chek"],
        'C101 there is no command "chek"; did you mean "check"?\nhelp: "latchwork --help" shows what it takes\n',
    ),
    (
        ["imags"],
        'C101 there is no command "imags"; did you mean "images"?\nhelp: "latchwork --help" shows what it takes\n',
    ),
    (["explain"], "C101 missing argument 'CODE'\nhelp: \"latchwork explain --help\" shows what it takes\n"),
    (["new", "a", "--loud"], "C101 no such option '--loud'\nhelp: \"latchwork new --help\" shows what it takes\n"),
    (["verify"], 'C101 the file that was read back is missing\nhelp: "latchwork verify --help" shows what it takes\n'),
    (
        ["verify", "a", "b", "c"],
        "C101 3 words are too many; the machine and the file that was read back are all it takes\n"
        'help: "latchwork verify --help" shows what it takes\n',
    ),
    (
        ["images", "--since", "no"],
        'C101 --since: "no" is no folder\nhelp: "latchwork images --help" shows what it takes\n',
    ),
    (
        ["save", "tiny", "--out", "a.txt"],
        'C101 --out: the name of a saved model ends in ".latchwork"\n'
        'help: "latchwork save --help" shows what it takes\n',
    ),
    (["explain", "X1"], 'C105 no problem has the code "X1"\nhelp: a code is a letter and three digits\n'),
    (
        ["new", "1st"],
        'C107 "1st" is no name for a machine\nhelp: use letters, digits and underscores, a letter first\n',
    ),
    (["new", "tiny"], 'C106 "tiny" is there already\nhelp: choose another name\n'),
    (
        ["images", "nowhere"],
        'M101 there is no "nowhere"\n  nowhere\nhelp: name a folder with a machine.py, or such a file\n',
    ),
]


@pytest.mark.usefixtures("tiny")
@pytest.mark.parametrize(("words", "message"), CALLS)
def test_unusable_calls(call, words: list[str], message: str) -> None:
    assert call(*words) == (2, "", message)


def test_a_problem_as_json(call) -> None:
    status, out, err = call("explain", "X1", "--json")
    assert (status, err) == (2, "")
    said = json.loads(out)
    assert (said["command"], said["ok"], said["problems"][0]["code"]) == ("explain", False, "C105")


def test_explain(call) -> None:
    status, out, err = call("explain", "i103")
    assert (status, err) == (0, "")
    assert out.startswith("I103 the checksum of a record is wrong\n\nSomething about ROM images, written or read back.")
    assert "What to do\n" in call("explain", "W101")[1]


def test_images(call, tiny: Path) -> None:
    content = (tiny / "given.bin").read_bytes()
    status, out, _ = call("images", "tiny")
    assert status == 0
    assert out.splitlines() == [
        "chip  part   holds  board  bytes  fill  CRC-32",
        f"U3    28C16  image  only    2048  FF    {zlib.crc32(content):08X}",
        "without contents: U1, U2",
        "6 files in tiny/images, the labels in labels.html",
    ]
    assert (tiny / "images/only-U3-28C16.bin").read_bytes() == content
    status, out, _ = call("images", "tiny", "--since", "tiny/images", "--json")
    assert status == 0
    assert json.loads(out)["chips"][0]["burn"] == "keep"


def test_images_since_tells_what_to_burn_and_writes_nothing(call, tiny: Path) -> None:
    call("images", "tiny", "--format", "hex", "--out", "before")
    assert not (tiny.parent / "before/only-U3-28C16.bin").exists()
    content = bytearray((tiny / "given.bin").read_bytes())
    content[5] ^= 1
    (tiny / "given.bin").write_bytes(content)
    status, out, _ = call("images", "tiny", "--since", "before")
    assert status == 1
    assert out.splitlines()[1].endswith("again, 1 byte differs")
    assert not (tiny / "images").exists()


def test_a_persons_file_is_not_overwritten(call, tiny: Path) -> None:
    (tiny / "images").mkdir()
    mine = tiny / "images/labels.txt"
    mine.write_text("mine")
    assert call("images", "tiny") == (
        2,
        "",
        "C102 this file was not written by Latchwork\n  tiny/images/labels.txt\n"
        "help: move it away, or overwrite it with --force; nothing was written\n",
    )
    assert [path.name for path in (tiny / "images").iterdir()] == ["labels.txt"]
    assert call("images", "tiny", "--force")[0] == 0
    mine.write_text("changed")
    status, _, err = call("images", "tiny")
    assert status == 2
    assert err == (
        "C103 this file was changed since Latchwork wrote it\n  tiny/images/labels.txt\n"
        "help: move it away, or overwrite it with --force; nothing was written\n"
    )


def test_a_folder_in_the_way(call, tiny: Path) -> None:
    (tiny / "images/labels.txt").mkdir(parents=True)
    for force in ([], ["--force"]):
        assert call("images", "tiny", *force) == (
            2,
            "",
            "C102 a folder stands where a file goes\n  tiny/images/labels.txt\n"
            "help: move it away; nothing was written\n",
        )
    assert [path.name for path in (tiny / "images").iterdir()] == ["labels.txt"]


def test_verify(call, tiny: Path) -> None:
    content = (tiny / "given.bin").read_bytes()
    Path("back.bin").write_bytes(content)
    assert call("verify", "tiny", "back.bin") == (
        0,
        "back.bin is what U3 (28C16 only.given) should hold, all 2048 bytes\n",
        "",
    )
    crossed = bytes(content[at ^ (0b110 if (at >> 1 ^ at >> 2) & 1 else 0)] for at in range(2048))
    Path("back.bin").write_bytes(crossed)
    status, out, _ = call("verify", "tiny", "back.bin", "--chip", "U3")
    assert status == 1
    assert "explained: address lines A1 (address[1]) and A2 (address[2]) are swapped\n" in out
    assert "   should be " in out


def test_a_saved_model_opens_without_running_the_machine(call, tiny: Path) -> None:
    assert call("save", "tiny")[0] == 0
    images = call("images", "tiny", "--out", "a")
    saved = Path("tiny.latchwork").read_bytes()
    shutil.rmtree(tiny)
    assert call("images", "tiny.latchwork", "--out", "b")[0] == images[0] == 0
    for path in Path("a").iterdir():
        assert (Path("b") / path.name).read_bytes() == path.read_bytes()
    assert call("save", "tiny.latchwork", "--out", "again.latchwork")[0] == 0
    assert Path("again.latchwork").read_bytes() == saved


def test_an_image_file_that_does_not_fit(call, tiny: Path) -> None:
    (tiny / "given.bin").write_bytes(bytes(2049))
    status, _, err = call("images", "tiny")
    assert status == 2
    assert err == (
        'M109 the image "given.bin" has 2049 bytes, U3 holds 2048\n  tiny/machine.py:9:1\n'
        '      m.image(rom, "given.bin")\n      ^\n'
        "help: only raw bytes are an image here, not a file of records\n"
    )
    (tiny / "given.bin").unlink()
    assert call("images", "tiny")[2] == (
        'M108 the image "given.bin" can\'t be read: No such file or directory\n  tiny/machine.py:9:1\n'
        '      m.image(rom, "given.bin")\n      ^\n'
        "help: name a file of raw bytes\n"
    )


def test_an_internal_error_is_one_sentence(call, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(code: str) -> None:
        raise KeyError(code)

    monkeypatch.setattr("latchwork.problems.registry.near", fails)
    status, out, err = call("explain", "X1")
    assert (status, out) == (2, "")
    line = fails.__code__.co_firstlineno + 1
    assert err == (
        f"C900 Latchwork itself made a mistake: KeyError in fails, test_commands.py:{line}\n"
        "help: please report it, with your files and what the same call says with --debug\n"
    )
    with pytest.raises(KeyError):
        call("--debug", "explain", "X1")


def test_new_writes_the_template(call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    status, out, _ = call("new", "heron", "--json")
    assert status == 0
    assert json.loads(out)["files"] == ["heron.micro", "count.asm", "machine.py", "test_heron.py"]
    assert 'Machine("heron"' in (tmp_path / "heron/machine.py").read_text()
    assert not any("NAME" in path.read_text() for path in (tmp_path / "heron").iterdir())


def test_the_new_machine_is_a_sound_description(call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert call("new", "heron")[0] == 0
    machine = read_machine("heron")
    assert machine.netlist.name == "heron"
    assert machine.statements.microprogram is not None
    assert (tmp_path / "heron" / machine.statements.microprogram.source).is_file()


def test_a_place_that_can_not_be_written(call, tiny: Path) -> None:
    status, out, err = call("images", "tiny", "--out", "tiny/given.bin/images")
    assert (status, out) == (2, "")
    assert err == (
        "C104 a file stands where a folder goes\n"
        "  tiny/given.bin\n"
        "help: move it away, or name another folder; nothing was written\n"
    )


def test_a_full_disk(call, tiny: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*arguments: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", str(tiny / "images" / "labels.txt"))

    monkeypatch.setattr(Path, "write_bytes", full)
    assert call("images", "tiny") == (
        2,
        "",
        "C104 this can't be written: no space left on device\n  tiny/images/labels.txt\n"
        "help: may you write there, and is there room? nothing was written\n",
    )


def test_every_code_of_the_command_line_has_its_case() -> None:
    places = (Path(__file__).parent, Path(__file__).parents[1] / "catalogue")
    text = "".join(file.read_text(encoding="utf-8") for place in places for file in sorted(place.glob("test_*.py")))
    assert [code for code in TITLES if text.count(code) < 1] == []
