"""Searching the catalogue, near replacements, the report of figures from memory, and the commands."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from latchwork.chips import catalogue
from latchwork.cli.commands.chip import command as chip
from latchwork.cli.commands.chips import command as chips
from latchwork.cli.main import run
from latchwork.parts import Confidence
from latchwork.tools.catalogue.figures import memory_report
from latchwork.tools.catalogue.listing import listing
from latchwork.tools.catalogue.one_part import named_part, part_report


def numbers(*words: str, **asked: str) -> set[str]:
    return {part.number for part in listing(words, **asked).parts}


def test_words_are_searched_for_in_any_form() -> None:
    assert {"169", "191"} <= numbers("4-bit up/down counter")
    assert numbers("four-bit", "up", "down", "counters") == numbers("4-bit up/down counter")
    assert "161" not in numbers("4-bit up/down counter")
    assert {"00", "37", "132"} <= numbers("quad 2-input nand")
    assert numbers("74HC161") == numbers("161", "HC") == {"161"}
    assert numbers("anemometer") == set()


def test_kind_and_family_narrow_the_list() -> None:
    every = catalogue.entries()
    assert numbers(kind="counter") == {entry.number for entry in every if entry.kind == "counter"}
    assert numbers(family="F") == {entry.number for entry in every if "F" in entry.families}
    assert listing().all == listing().found == len(every)


def test_parts_are_complete() -> None:
    incomplete = [part.number for part in listing().parts if not part.complete]
    assert incomplete == []


def replacements(name: str) -> dict[str, tuple[str, tuple[str, ...]]]:
    return {each.number: (each.kind, each.changes) for each in part_report(*named_part(name)).replacements}


def test_near_replacements_of_an_adder() -> None:
    """83 and 283 differ in nothing but their pins (common practice)."""
    kind, changes = replacements("74LS83")["283"]
    assert kind == "same function, other pins"
    assert changes == ("16 pins stand elsewhere",)


def test_near_replacements_of_a_gate() -> None:
    found = replacements("74HC00")
    assert found["132"] == ("same pins and function", ())
    assert found["08"] == ("same pins, other function", ("inverted: every output",))
    assert found["03"][1] == ("drives where this one lets go, or the other way round: every output",)
    assert "02" not in found
    kind, changes = found["74LS00"]
    assert kind == "same pins and function"
    assert "an open input reads high" in changes


def test_near_replacements_of_a_register() -> None:
    found = replacements("74HC377")
    assert "pin 1 is /CLR instead of /G" in found["273"][1]
    assert "pin 11 is LE instead of CLK" in found["373"][1]


def test_figures_from_memory_are_counted() -> None:
    report = memory_report()
    assert report.from_memory == len(report.figures) == sum(count for _, count, _ in report.parts)
    assert sum(count for _, count in report.confidences) == report.all
    assert report.share == round(100 * report.from_memory / report.all, 1)
    of_parts = sum(figure.confidence is Confidence.MEMORY for each in catalogue.entries() for figure in each.figures)
    assert of_parts <= report.from_memory


def said(command, *arguments: str) -> str:
    done = CliRunner().invoke(command, arguments, standalone_mode=False)
    assert done.exception is None
    return done.output


def test_the_list_as_a_table_and_as_json() -> None:
    text = said(chips, "up/down", "counter")
    assert text.splitlines()[0].split()[:2] == ["part", "kind"]
    assert any(line.startswith("169 ") for line in text.splitlines())
    data = json.loads(said(chips, "--json"))
    assert data["complete"] == data["all"] == len(catalogue.entries())
    assert data["complete"] >= 130
    assert " % (" in said(chips, "--memory").splitlines()[-1]


def test_a_part_is_told_in_full(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    text = said(chip, "161", "--svg", "pins.svg")
    for heading in ("What it does", "Function of Q", "Timing", "Mistakes people make", "Near replacements", "Sources"):
        assert heading in text
    assert "/CLR ──▶ │ 1 " in text
    assert Path("pins.svg").read_text().startswith("<svg ")
    assert json.loads(said(chip, "74HC161", "--json"))["tables"]


def test_a_part_of_a_machine_is_found_too(tmp_path: Path) -> None:
    (tmp_path / "machine.py").write_text(
        "from latchwork import Machine\nfrom latchwork.chips.pins import dip\nfrom latchwork.logic import variable\n"
        "from latchwork.parts import Behaviour, Drive, Entry\n"
        'pins = dip("A:i GND Y:o VCC")\n'
        'mine = Entry("follower", "follows", "gate", ("",), pins, Behaviour((Drive("Y", variable("A")),)))\n'
        'm = Machine("heron")\nm.chip(mine, A=m.switch("key"), Y=m.net("out"))\n'
    )
    assert "follower: follows" in said(chip, "follower", "--machine", str(tmp_path))


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (["chip", "74LS574"], "C120 74LS574 does not exist; 574 is made in "),
        (["chip", "anemometer"], 'C120 "anemometer" is not in the catalogue'),
        (["vectors", "LED"], "C121 LED has no vectors: it drives no pin by logic\nhelp: look at it with a meter\n"),
        (
            ["vectors", "27C64"],
            "C121 27C64 has no vectors: it shows what was burned into it\n"
            'help: compare it with its image: "latchwork verify"\n',
        ),
        (
            ["vectors", "74HC123"],
            "C121 74HC123 has no vectors: it answers in its own time\n"
            "help: a test that sets levels and looks at once can't judge it\n",
        ),
        (["chips", "--family", "ZZ"], 'C101 there is no family "ZZ"; there are TTL, LS, '),
        (["chips", "--kind", "ship"], 'C101 there is no kind "ship"; there are '),
    ],
)
def test_what_cannot_be_had_is_said(call: list[str], message: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(call) == 2
    assert capsys.readouterr().err.startswith(message)
