"""The reference page is run: every program on it becomes the words, or gets the message, that stand below it."""

import re
from pathlib import Path

import pytest

from latchwork.languages.assembly.assemble import assemble_file
from latchwork.languages.assembly.directives import DIRECTIVES
from latchwork.languages.assembly.grammar import ALTERNATIVES, CLOSERS, PRECEDENCE
from latchwork.languages.assembly.program import Program
from latchwork.languages.assembly.target import Place, Target
from latchwork.languages.microprogram.parse import parse_microprogram
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain_all

PAGE = (Path(__file__).parents[2] / "docs" / "assembly.md").read_text()
CASES = re.findall(r"```asm\n(.*?)```\n```(words|problem)\n(.*?)```", PAGE, re.DOTALL)


def target() -> Target:
    (blocks,) = re.findall(r"```micro\n(.*?)```", PAGE, re.DOTALL)
    load = r'(?:, load_space="(\w+)", load_start=(\w+))?'
    sections = re.findall(rf'm\.section\("(\w+)", space="(\w+)", start=(\w+), size=(\w+){load}\)', PAGE)
    widths = {"program": 12, "data": 8}
    places = (
        Place(name, space, int(start, 0), int(size, 0), 8, widths[space], stored, int(at or "0", 0))
        for name, space, start, size, stored, at in sections
    )
    return Target(parse_microprogram(blocks).instructions, tuple(places))


def as_rows(program: Program) -> str:
    """Runs of words as they are stored, each in a line with its address."""
    rows, after = "", -1
    for address, word in program.stored["program"].items():
        rows += f" {word:02x}" if address == after else f"\n{address:03x}: {word:02x}"
        after = address + 1
    return rows.lstrip() + "\n"


def result(text: str, folder: Path) -> str:
    (folder / "program.asm").write_text(text)
    try:
        return as_rows(assemble_file(Path("program.asm"), target()))
    except LatchworkError as error:
        return plain_all(error.problems) + "\n"


@pytest.mark.parametrize(("text", "expected"), [(text, expected) for text, _, expected in CASES])
def test_the_page(text: str, expected: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert result(text, tmp_path) == expected


def test_every_program_of_the_page_is_run() -> None:
    assert PAGE.count("```asm\n") == len(CASES) >= 10


def test_the_page_speaks_of_everything() -> None:
    words = {*DIRECTIVES, *CLOSERS, *ALTERNATIVES}
    assert [word for word in sorted(words) if f"{word}" not in PAGE] == []
    signs = PAGE.replace("&#124;", "|")
    assert [sign for sign in PRECEDENCE if sign not in signs] == []
