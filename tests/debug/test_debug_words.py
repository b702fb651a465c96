"""The debugger's words, as typed: every one of them, mistakes, and any text at all."""

from __future__ import annotations

import io
import json
import signal
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork.cli.interrupts import interrupts
from latchwork.cli.main import run
from latchwork.devices import Device
from latchwork.load.model import load_model
from latchwork.problems import LatchworkError
from latchwork.tools.debug import Session
from latchwork.tools.debug.commands import HELP, VERBS, Commands
from latchwork.tools.run.running import Running

ROOT = Path(__file__).parents[2]
DUNLIN = ROOT / "machines" / "dunlin"


@cache
def model():  # type: ignore[no-untyped-def]
    return load_model(DUNLIN)


@cache
def program() -> str:
    return str(DUNLIN / "programs" / "multiply.asm")


class Echo(Device):
    """Says again what it is told."""

    def received(self, bench, data: bytes) -> None:  # type: ignore[no-untyped-def]
        bench.emit(data)


def commands(device: bool = False) -> Commands:
    running = Running(model())
    if device:
        running.attach(Echo("echo"))
    running.load(program())
    return Commands(Session(running, every=20))


def test_help_tells_every_word() -> None:
    listed = Commands.say(commands(), "help")
    assert "\n".join(listed) == HELP
    for verb in VERBS - {"again"}:
        assert hasattr(Commands, f"_{verb}"), verb


def test_moving_and_where() -> None:
    c = commands()
    assert c.say("stop at start.turn") == ["  1  at start.turn"]
    answer = c.say("go")
    assert answer[0] == "stop 1, at start.turn"
    assert answer[1] == "clock 38, 37.5 µs, instruction 12 begins"
    assert answer[2] == "  multiply.asm:23  .turn:  rotate  right"
    assert answer[3] == "  dunlin.micro:46  step 0 of fetch: ir_take, pc_advance"
    assert answer[4] == "  active: ir_take pc_advance"
    assert c.say("")[1].startswith("clock 68,")  # again
    assert c.say("# nothing but a remark") == []
    assert c.say("back 30 clocks")[0] == answer[1]


def test_stops_are_listed_and_forgotten() -> None:
    c = commands()
    for line, text in [
        ("stop at 0x14", "at 0x14"),
        ("stop at micro 0x213", "at micro 0x213"),
        ("stop at step 2 of add [n]", "at step 2 of add [n]"),
        ("stop when carry  and not zero_n", "when carry and not zero_n"),
        ("stop when changed acc", "when changed acc"),
        ("stop when read ram[factor]", "when read ram[factor]"),
        ("stop when written ram[high] = 100", "when written ram[high] = 100"),
        ("stop when trouble", "when trouble"),
    ]:
        assert c.say(line)[0].endswith(f"  {text}")
    assert len(c.say("stops")) == 8
    c.say("forget 3")
    assert not [line for line in c.say("stops") if "step 2" in line]
    c.say("forget all")
    assert c.say("stops") == ["  no stops"]


@pytest.mark.parametrize(
    ("stop", "line"),
    [
        ("at micro 0x213", "step 2 of rotate right"),
        ("at step 2 of add [n]", "step 2 of add [n]"),
        ("when read ram[factor]", "step 2 of add [n]"),
        ("when written ram[high] = 100", "step 2 of store acc, [n]"),
        ("when changed index", "step 0 of fetch"),
        ("when not carry and index = 7", "step 0 of fetch"),
    ],
)
def test_each_kind_of_stop_stops(stop: str, line: str) -> None:
    c = commands()
    c.say("stop at start.next")
    c.say("go")
    c.say("forget all")
    c.say(f"stop {stop}")
    answer = c.say("go")
    assert answer[0] == f"stop 2, {stop}"
    assert line in answer[3]
    place = c.session.place
    c.say("forward 1 tick")
    c.say("back until stop")
    assert c.session.place == place


def test_looking() -> None:
    c = commands()
    c.say("go")
    assert c.say("show acc, ram[low], carry or pressed") == [
        "  acc = 24  (0x18)",
        "  ram[low] = 24  (0x18)",
        "  carry or pressed = 0",
    ]
    assert c.say("look ram factor..low") == ["  0000  c8 60 18"]
    assert c.say("look rom start.next") == ["  000e  1a"]
    assert [line for line in c.say("lines") if "▸" in line] == ["  ▸   32          halt"]
    assert c.say("trouble") == ["  no trouble"]
    assert c.say("horizon 100 clocks")[1].endswith("at most 100 clocks are kept")


def test_hands_and_devices_are_recorded() -> None:
    c = commands(device=True)
    heard = []
    c.session.on_emit = lambda name, data: heard.append((name, data))
    c.say("forward 3 ticks")
    c.say("set keys = 0x21")
    c.say("put ram[7] = 99")
    c.say('send echo "a\\n\\x41"')
    assert heard == [("echo", b"a\nA")]
    c.say("forward 9 ticks")
    c.say("back 11 ticks")
    assert c.say("show keys, ram[7]")[1] != "  ram[7] = 99  (0x63)"
    c.say("forward 40 ticks")
    assert c.say("show keys, ram[7]") == ["  keys = 33  (0x21)", "  ram[7] = 99  (0x63)"]
    assert heard == [("echo", b"a\nA")]  # said once, though done again


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("frward", 'R505 "frward" is no word of the debugger (near it are forward)'),
        ("forward 3 miles", 'R505 "3 miles" is no distance (write a number and tick, clock, step or instruction)'),
        ("back 0", 'R505 "0" is no distance (write a number and tick, clock, step or instruction)'),
        ("stop", 'R505 "stop " is no stop (write stop at LABEL or stop when CONDITION)'),
        ("stop at", "R505 something is missing (help lists all words with what they take)"),
        ("stop at nxt", 'R504 the program has no label "nxt" (near it are start.next)'),
        ("stop at micro 99999", "R504 no step of a microprogram stands at 0x1869f of the control store"),
        ("stop at step 9 of halt", 'R504 "halt" has no step 9; it has 2, 3'),
        ("stop at step 1 of stp", 'R504 the microprogram has no block "stp"'),
        (
            "stop when read acc",
            'R504 "acc" is no cell of a memory (write it as ram[16], with the name of an address space)',
        ),
        ("stop when read ram[256]", 'R504 "ram[256]" lies outside the memory, whose addresses are 0 to 255'),
        ("stop when written ram[1] = x", 'R505 "x" is no number (write 12, 0x1F or 0b101)'),
        ("forget 7", "R506 there is no stop 7; there are: none"),
        ("look ram 9..3", "R505 9..3 runs backwards (write the lower address first)"),
        ("look rum 3", 'R106 the machine has no memory "rum" (it has rom, ram, U6, U8, U10, U17, U30)'),
        ("look ram", 'R505 "look ram" names no cells (write look ram 16..31)'),
        ("look ram 999", 'R504 "999" lies outside ram, whose addresses are 0 to 255'),
        ("stop when read rum[3]", 'R106 the machine has no address space "rum" (it has rom, ram)'),
        ("put ram[1] = 256", 'R103 256 does not fit "ram", whose words take 0 to 255'),
        ("set keys = 300", 'R103 300 does not fit "keys", which takes 0 to 255'),
        ("set keys", 'R505 "keys" sets nothing (write NAME = N)'),
        (
            "set acc = 3",
            'R102 "acc" can\'t be set: no switch, button or hand clock is on acc[0] '
            "(only what a hand can reach on the bench can be set)",
        ),
        ("send nobody x", 'R101 the machine has no device "nobody" (no device is attached)'),
        (
            "show nobody",
            'R101 the machine has nothing called "nobody" (registers, ports, buses, nets and lines have names)',
        ),
        ("back until at start.turn", "R503 no instruction began at start.turn since clock 0"),
        ("horizon 3 miles", 'R505 "3 miles" is no amount (write a number and clocks or megabytes)'),
    ],
)
def test_mistakes(line: str, message: str) -> None:
    c = commands()
    c.say("forward 2 ticks")
    at = c.session.place
    with pytest.raises(LatchworkError) as raised:
        c.say(line)
    assert str(raised.value) == message
    assert c.session.place == at


_MORE = """at when until changed read written step of micro and not ( [ ] " é = 3 .. 0x99 -1
ram[1] ram acc keys start.next .turn"""
WORDS = st.sampled_from([*sorted(VERBS - {"go", "forward", "until", "leave"}), *_MORE.split()])


@cache
def _standing() -> Commands:
    c = commands()
    c.say("forward 30 ticks")
    return c


@settings(max_examples=200, deadline=None)
@given(st.lists(WORDS, max_size=6).map(" ".join))
def test_any_line_is_followed_or_refused(line: str) -> None:
    code = ""
    try:
        _standing().say(line)
    except LatchworkError as error:
        code = error.problems[0].code
    assert code in ("", "R101", "R102", "R103", "R106", "R501", "R502", "R503", "R504", "R505", "R506")


def test_completion() -> None:
    c = commands()
    assert c.completions("forg") == ["forget"]
    assert c.completions("stop at start.") == ["start.next", "start.turn"]
    assert "ram_write" in c.completions("show ram_w")


def test_names_of_labels_that_are_several(tmp_path: Path) -> None:
    (tmp_path / "two.asm").write_text("one:\n.back: jump .back\ntwo:\n.back: jump .back\n")
    running = Running(model())
    running.load(str(tmp_path / "two.asm"))
    with pytest.raises(LatchworkError) as raised:
        Commands(Session(running)).say("stop at .back")
    assert str(raised.value) == 'R504 the program has ".back" 2 times (write one.back or two.back)'


def test_a_machine_without_microprogram_has_no_steps(tmp_path: Path) -> None:
    (tmp_path / "machine.py").write_text('from latchwork import Machine\nm = Machine("bare")\nm.clock(1_000_000)\n')
    bare = Commands(Session(Running(load_model(tmp_path))))
    for line, message in [
        ("forward 2 steps", "R504 the machine has no microprogram, and so no steps (go by clocks or ticks)"),
        (
            "stop at 3",
            "R504 the machine has no microprogram, so that nobody knows where an instruction begins "
            "(stop when a condition holds: stop when acc = 3)",
        ),
    ]:
        with pytest.raises(LatchworkError) as raised:
            bare.say(line)
        assert str(raised.value) == message


def talk(text: str, *more: str, monkeypatch: pytest.MonkeyPatch) -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO(text))
    return run(["debug", str(DUNLIN), program(), *more])


def test_orders_from_a_pipe(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert talk("go\nshow acc\nleave\nshow pc\n", "--do", "stop at 14", monkeypatch=monkeypatch) == 0
    out = capsys.readouterr().out.splitlines()
    assert out[0] == "dunlin at clock 0: stop at 14"
    assert "stop 1, at 14" in out
    assert out[-3:] == ["dunlin at clock 29: show acc", "  acc = 61  (0x3d)", "dunlin at clock 29: leave"]


def test_a_line_that_cannot_be_followed_makes_exit_1(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert talk("gone\nshow pc\n", monkeypatch=monkeypatch) == 1
    assert 'R505 "gone" is no word' in capsys.readouterr().out


def test_a_switch_without_its_level(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert talk("", "--input", "keys=x", monkeypatch=monkeypatch) == 2
    assert capsys.readouterr().err == (
        'R103 "keys=x" sets nothing\nhelp: write NAME=NUMBER, such as keys=5 or keys=0x1F\n'
    )


def test_as_json(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert talk("stop at .turn\ngo\nshow acc\nnonsense\n", "--json", monkeypatch=monkeypatch) == 1
    report = json.loads(capsys.readouterr().out)
    assert (report["command"], report["ok"]) == ("debug", False)
    assert [each["clock"] for each in report["orders"]] == [0, 38, 38, 38]
    assert report["orders"][2]["answer"] == ["  acc = 200  (0xc8)"]
    assert report["orders"][3]["problems"][0]["code"] == "R505"


def test_an_interrupt_stops_at_the_end_of_a_tick() -> None:
    """As Ctrl-C does it: the flag is set in the middle of a run."""
    c = commands()
    machine = c.session.machine
    ticks = 0

    def press() -> None:
        nonlocal ticks
        ticks += 1
        if ticks == 33:
            signal.raise_signal(signal.SIGINT)

    machine.on_tick.append(press)  # type: ignore[attr-defined]
    with interrupts(machine):
        answer = c.say("go")
    assert answer[0] == "it was interrupted by hand"
    assert c.session.place.tick == 33
    c.say("forward 1 tick")
    assert c.session.place.tick == 34
