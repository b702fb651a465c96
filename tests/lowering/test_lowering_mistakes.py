# ruff: noqa: E501  the changes are easier to read on one line each
"""Every complaint about fitting a microprogram to the wiring: a spoilt machine or microprogram beside its full message.

A case changes pieces of Turnstone (``turnstone.py``), or of Redshank or Whimbrel; what is said then stands in
``mistakes/NAME.txt``.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from turnstone import MACHINE, MICRO, complaint
from turnstone import written as turnstone

from latchwork.languages.microprogram.lowering.errors import TITLES
from latchwork.load.machine import LoadedMachine, read_machine

HERE = Path(__file__).parent
SMALL = HERE.parent / "machines"
Changes = list[tuple[str, str]]

SHOW = "Y1=[OPEN, one_show_n, two_show_n, three_show_n]"
ADD = "    two_show, alu = plus, flags_take, last\n"
COUNTER = "CLR_n=back_n, LOAD_n=HIGH"
LINES = "A=[jump, *alu, extra, LOW, LOW, LOW, LOW]"

CASES: dict[str, Changes] = {
    "U201_hardware_line": [('spare = m.net("spare")', 'spare = m.line("spare", hardware=True)'), (LINES, LINES.replace("LOW", "spare", 1)),
                           ('wanted = m', 'm.gate("or", opcode[0], opcode[1], out=spare)\nwanted = m'), (ADD, "    spare\n" + ADD)],
    "U202_no_store_bit": [('spare = m.net("spare")', 'spare = m.line("spare")'), (LINES, LINES.replace("LOW", "spare", 1)),
                          ('wanted = m', 'm.gate("or", LOW, LOW, out=spare)\nwanted = m'), (ADD, "    spare\n" + ADD)],
    "U203_one_decoder": [(ADD, "    two_show, three_show, last\n")],
    "U204_brings_another": [('out=more)', 'out=more)\ntwin = m.line("twin")\nm.gate("or", wanted, LOW, out=twin)'),
                            (ADD, "    twin\n" + ADD)],
    "U204_never": [("D=[*code, opcode_take_n", "D=[*code, raw"), ('out=more)', 'out=more)\nm.gate("or", raw, carry, out=opcode_take_n)'),
                    ('spare = m', 'raw = m.net("raw")\nspare = m')],
    "U205_no_rest": [(SHOW, "Y1=[m.net('none'), one_show_n, two_show_n, three_show_n]"), ('m.line("one_show_n")', 'm.line("one_show_n", rest=LOW)'),
                     ('m.line("two_show_n")', 'm.line("two_show_n", rest=LOW)')],
    "U207_unknown": [('m.gate("inverter", extra, out=more)', 'm.gate("nor", extra, m.switch("mode"), out=more)'), (ADD, "    extra_more\n" + ADD)],
    "U207_clock_phase": [('m.gate("inverter", extra, out=more)', 'm.gate("nor", extra, clock, out=more)'), (ADD, "    extra_more\n" + ADD)],
    "U209_loose_bit": [('more = m.line("extra_more")', 'more = m.net("extra_more")')],
    "U210_two_words": [('m.gate("inverter", extra, out=more)',
                        'held = m.chip("74", CLK1=clock, D1=extra, CLR1_n=HIGH, PRE1_n=HIGH, CLK2=LOW, D2=LOW, CLR2_n=HIGH,'
                        ' PRE2_n=HIGH, Q1_n=OPEN, Q2=OPEN, Q2_n=OPEN).Q1\nm.gate("nor", extra, held, out=more)'), (ADD, "    extra_more\n" + ADD)],
    "U211_no_selector": [("    when zero   jump, last\n    otherwise   last\n", "    when zero   alu = plus, last\n    otherwise   last\n")],
    "U212_unseen": [('label="high", A=address', 'label="high", A=[*opcode, *step, LOW, LOW, LOW, LOW]'),
                    ("    when carry  three_show\n", "    when carry  three_show, extra_more\n")],
    "U220_origin": [('"carry": carry, ', ''), ("    when carry  three_show\n    otherwise   two_show, alu = both\n", "    three_show\n")],
    "U221_open_address": [("carry, LOW, LOW, LOW]\n", "carry, LOW, LOW, OPEN]\n")],
    "U223_no_clock": [('m.clock(1_000_000)', 'm.net("clock")'), ("m.power_on_reset()", 'm.net("reset_n")')],
    "U224_opcodes": [("address = [*opcode, ", "address = [LOW, *opcode[1:4], ")],
    "U225_early": [("    fetch\n" + ADD, "    two_show, opcode_take\n" + ADD)],
    "U227_no_opcode": [("address = [*opcode, ", "address = [LOW, LOW, LOW, LOW, ")],
    "U228_no_interrupt": [("other opcodes", "entry interrupt\n    nothing\n    last\n\nother opcodes")],
    "U228_not_at_address": [("other opcodes", "entry interrupt\n    nothing\n    last\n\nother opcodes"),
                            ("opcode=opcode,", "opcode=opcode, interrupt=spare,")],
    "U229_step_switch": [("ENP=HIGH", 'ENP=m.switch("run")')],
    "U230_too_many_steps": [(ADD, "    alu = plus\n" * 8 + ADD)],
    "U231_never_reached": [(ADD, ADD + "    three_show, last\n")],
    "U232_no_reset": [(COUNTER, 'CLR_n=HIGH, LOAD_n=HIGH'), (LINES, LINES.replace("LOW", "last_n", 1))],
}  # fmt: skip

START: dict[str, Changes] = {
    "U225_begins_otherwise": [("    fetch\n    acc_show, lamps_take, home", "    acc_show, lamps_take, home\n    home")],
    "U225_too_late": [("    program_show, opcode_take, pc_advance\n    enter", "    program_show, opcode_take, pc_advance, enter")],
    "U231_start": [("    memory_show, acc_take, home", "    memory_show, acc_take, home\n    home")],
    "U233_no_room": [("P=entrance[part]", "P=[LOW] * 4 if digit else [*entrance[0:2], HIGH, LOW]")],
    "U234_no_dispatch": [("    enter  ", "    nothing")],
    "U235_no_end": [("    acc_show, lamps_take, home", "    acc_show, lamps_take")],
    "U235_no_steps": [("    fetch\n    acc_show, lamps_take, home", "    fetch")],
    "U236_dispatch_again": [("    acc_show, lamps_take, home", "    acc_show, lamps_take, enter\n    home")],
    "U237_pinned": [("    fetch\n    acc_show, lamps_take, home", "    pin at 1\n    fetch\n    acc_show, lamps_take, home")],
}  # fmt: skip

NEXT: dict[str, Changes] = {
    "U225_next_too_late": [("    program_show, opcode_take, pc_advance\n    choose", "    choose\n    program_show, opcode_take, pc_advance")],
    "U234_next_no_dispatch": [("    choose   ", "    nothing  ")],
    "U236_condition": [("C1=[next_step[0], carry,", "C1=[next_step[0], LOW,")],
    "U238_at_once": [("    fetch\n    nothing                                   # the flag chooses", "    fetch #")],
    "U232_next_reset": [("CLR_n=reset_n, D=[*coming", "CLR_n=reset_n if number else HIGH, D=[*coming")],
}  # fmt: skip


def spoilt(texts: dict[str, str], changes: Changes) -> dict[str, str]:
    for old, new in changes:
        assert any(old in text for text in texts.values()), f"nothing to change: {old}"
        texts = {name: text.replace(old, new, 1) for name, text in texts.items()}
    return texts


def small(name: str, changes: Changes, folder: Path) -> LoadedMachine:
    files = ("machine.py", f"{name}.micro")
    texts = spoilt({file: (SMALL / name / file).read_text() for file in files}, changes)
    for file, text in texts.items():
        (folder / file).write_text(text)
    return read_machine(folder)


def read(name: str, folder: Path) -> LoadedMachine:
    if name in START:
        return small("redshank", START[name], folder)
    if name in NEXT:
        return small("whimbrel", NEXT[name], folder)
    texts = spoilt({"machine": MACHINE, "micro": MICRO}, CASES[name])
    return turnstone(folder, texts["machine"], texts["micro"])


@pytest.mark.parametrize("name", [*CASES, *START, *NEXT])
def test_message(name: str, tmp_path: Path) -> None:
    said = complaint(read(name, tmp_path))
    assert said + "\n" == (HERE / "mistakes" / f"{name}.txt").read_text()
    assert said.startswith(name[:4])


def test_turnstone_itself_is_without_fault(tmp_path: Path) -> None:
    assert complaint(turnstone(tmp_path)) == ""


def test_every_code_has_a_case() -> None:
    direct = {
        "U206",
        "U208",
        "U222",
        "U226",
    }  # test_lowering_without_text.py: the parser or the catalogue is in the way
    covered = {name[:4] for name in (*CASES, *START, *NEXT)} | direct
    assert set(TITLES) == covered
