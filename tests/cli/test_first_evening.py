"""What a new user meets on the first evening: odd terminals, files in odd places, mistakes in the call. Each message in
full, exit 2, nothing written, and never a traceback."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from latchwork.cli.main import run
from latchwork.cli.show import MOST_PROBLEMS, counted

ASCII_ONLY = {**os.environ, "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PYTHONIOENCODING": "ascii"}


@pytest.fixture
def call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    """Calls a command in a folder that holds the new machine `curlew`."""
    monkeypatch.chdir(tmp_path)
    assert run(["new", "curlew"]) == 0
    capsys.readouterr()

    def called(*words: str) -> tuple[int, str, str]:
        status = run(list(words))
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return called


def latchwork(words: str, shell: str = "", env: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    """The program as the shell starts it, with what follows it in the shell's line."""
    line = f"{sys.executable} -m latchwork {words} {shell}"
    return subprocess.run(["bash", "-c", line], capture_output=True, text=True, env=env, check=False)


def test_letters_that_the_terminal_lacks_are_written_in_ascii(call) -> None:
    Path("greeting.asm").write_text("; grüße ●\n        halt\n", encoding="utf-8")
    done = latchwork("assemble curlew greeting.asm", env=ASCII_ONLY)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[2].endswith(r"; gr\xfc\xdfe \u25cf")
    done = latchwork("assemble curlew greeting.asm --json", env=ASCII_ONLY)
    assert done.returncode == 0
    assert json.loads(done.stdout)["ok"]


def test_a_reader_that_goes_away_is_no_finding(call) -> None:
    for words in ("card curlew", "card curlew --json", "assemble curlew count.asm"):
        done = latchwork(words, "| true; exit ${PIPESTATUS[0]}")
        assert (done.returncode, done.stderr) == (0, "")


def test_standard_output_that_is_closed(call) -> None:
    done = latchwork("check curlew", ">&-")
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("more", ["", "--json"])
def test_standard_output_that_is_full(call, more: str) -> None:
    done = latchwork(f"card curlew {more}", ">/dev/full")
    assert (done.returncode, done.stderr) == (2, "C104 the output can't be used: no space left on device\n")


def test_a_program_is_found_in_the_machines_folder(call) -> None:
    there = call("assemble", "curlew", "curlew/count.asm")
    assert there[0] == 0
    assert call("assemble", "curlew", "count.asm") == there
    status, out, _ = call("images", "curlew", "--program", "count.asm")
    assert status == 0
    assert "  program " in out
    assert "without contents" not in out
    assert call("assemble", "curlew", "county.asm") == (
        2,
        "",
        "A103 `county.asm` can't be read: no such file or directory\n  county.asm\n"
        "help: name a program's file, as seen from here or from the machine's folder\n",
    )


def test_this_folder_is_the_machine_where_none_is_named(call, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir("curlew")
    status, out, _ = call("run")
    assert status == 0
    assert out.splitlines()[:2] == [
        "stopped: it halted, halt_n is 0",
        "5 clocks, 1 instruction, 4.5 µs of the machine's time",
    ]
    assert call("assemble", "count.asm")[0] == 0


MISTAKES = {
    "assemble curlew": 'C101 the program is missing\nhelp: "latchwork assemble --help" shows what it takes\n',
    "run a b c": "C101 3 words are too many; the machine and the program are all it takes\n"
    'help: "latchwork run --help" shows what it takes\n',
    "run curlew --trace=": "C101 invalid value for '--trace': a name is missing\n"
    'help: "latchwork run --help" shows what it takes\n',
    "check curlew --sarif=": "C101 invalid value for '--sarif': a name is missing\n"
    'help: "latchwork check --help" shows what it takes\n',
    "images curlew --program=": "C101 invalid value for '--program': a name is missing\n"
    'help: "latchwork images --help" shows what it takes\n',
    "check /dev/null": 'M101 "/dev/null" is neither a folder nor a file\n  /dev/null\n'
    "help: name a folder with a machine.py, or such a file\n",
    "verify curlew .": "I110 this can't be read: is a directory\n  .\n"
    "help: name a file that was written or read back\n",
    "run curlew --watch acx": 'R101 the machine has nothing called "acx"\nhelp: did you mean "acc"?\n',
    "run curlew --until acc=x": 'R103 "acc=x" can never be reached: the value is a number from 0 to 255\n'
    "help: numbers are written as 26, 0x1A or 0b11010\n",
    "images curlew --out curlew/count.asm/x": "C104 a file stands where a folder goes\n  curlew/count.asm\n"
    "help: move it away, or name another folder; nothing was written\n",
    "verify curlew curlew/count.asm --chip u9": "I127 nothing says what 28C16 U9 is to hold\n"
    "help: name the program that goes into it: --program FILE\n",
}


@pytest.mark.parametrize("words", MISTAKES)
def test_message(call, words: str) -> None:
    before = sorted(Path().rglob("*"))
    assert call(*words.split()) == (2, "", MISTAKES[words])
    assert sorted(Path().rglob("*")) == before


def test_a_file_named_after_a_rom_without_contents_is_held_against_no_other(call) -> None:
    assert call("images", "curlew", "--program", "count.asm")[0] == 0
    file = "curlew/images/program-U9-28C16.bin"
    assert call("verify", "curlew", file, "--program", "count.asm")[0] == 0
    assert call("verify", "curlew", file) == (
        2,
        "",
        f"I127 nothing says what 28C16 U9 is to hold\n  {file}\n"
        "help: name the program that goes into it: --program FILE\n",
    )


def test_a_machine_without_programs_disassembles_none(call) -> None:
    Path("machine.py").write_text('from latchwork import Machine\nm = Machine("bare")\n')
    Path("some.bin").write_bytes(b"\x01")
    assert call("disassemble", ".", "some.bin") == (
        2,
        "",
        "A170 this machine states no address space for programs\n"
        "help: state one in machine.py: `m.space(...)`, and `m.section(...)` for a part of it\n",
    )


def test_a_trace_that_can_not_be_written_is_refused_before_the_run(call) -> None:
    Path("mine.vcd").write_text("mine")
    status, out, err = call("run", "no machine at all", "some.asm", "--trace", "mine.vcd")
    assert (status, out, Path("mine.vcd").read_text()) == (2, "", "mine")
    assert err == (
        "C102 this file was not written by Latchwork\n  mine.vcd\n"
        "help: move it away, or overwrite it with --force; nothing was written\n"
    )
    assert call("run", "curlew", "count.asm", "--trace", "mine.vcd", "--force")[0] == 0
    assert call("run", "curlew", "count.asm", "--trace", "mine.vcd")[0] == 0


def test_a_clock_that_is_worked_by_hand_is_worked(call) -> None:
    sanderling = str(Path(__file__).parents[2] / "machines" / "sanderling")
    keys = ("--input", "keys=5", "--input", "show=2", "--input", "acc_take_n=0")
    status, out, err = call("run", sanderling, "--until", "never", "--clocks", "2", *keys)
    assert (status, err) == (0, "")
    assert out.startswith("stopped: 2 clocks have passed\n2 clocks, ")
    assert "\nregisters: acc 5\n" in out


def test_a_microprogram_that_is_not_there(call) -> None:
    Path("curlew/curlew.micro").unlink()
    text = Path("curlew/machine.py").read_text().splitlines()
    line, quoted = next((number, each) for number, each in enumerate(text, 1) if each.startswith("m.microprogram("))
    assert call("check", "curlew") == (
        2,
        "",
        f'M113 the microprogram "curlew.micro" is not there\n  curlew/machine.py:{line}:1\n'
        f"      {quoted}\n      ^\n"
        "help: write it to curlew/curlew.micro, or name another file in m.microprogram\n",
    )


def test_a_microprogram_that_is_no_text(call) -> None:
    Path("curlew/curlew.micro").write_bytes(b"# one\n# caf\xe9\n")
    assert call("check", "curlew") == (
        2,
        "",
        "U103 `curlew/curlew.micro` can't be read: line 2 is no UTF-8 text\n  curlew/curlew.micro\n"
        "help: a microprogram is plain text in UTF-8\n",
    )


def test_a_flood_of_problems_is_cut_for_a_person(call) -> None:
    Path("noise.hex").write_text("?\n" * (MOST_PROBLEMS + 3))
    status, out, err = call("verify", "curlew", "noise.hex")
    shown = err.count("I101 ")
    number = len(json.loads(call("verify", "curlew", "noise.hex", "--json")[1])["problems"])
    assert (status, out) == (2, "")
    assert shown == min(number, MOST_PROBLEMS)
    if number > MOST_PROBLEMS:
        more = counted(number - MOST_PROBLEMS, "more problem")
        assert err.endswith(f"\n\n{more}; mend these first, or see all with --json\n")


def test_json_names_the_command_that_was_called(call) -> None:
    assert json.loads(call("--json")[1])["command"] == ""
    assert json.loads(call("--json", "check", "nowhere")[1])["command"] == "check"
