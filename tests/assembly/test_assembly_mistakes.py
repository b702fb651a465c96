"""Every message of the assembler with its full text: ``mistakes/NAME.asm`` is the input, ``NAME.txt`` what is said.

``LATCHWORK_WRITE_MISTAKES=1`` writes the texts anew, to be read before they are kept.
"""

import os
import re
from pathlib import Path

import pytest
from instruction_sets import TARGET

from latchwork.languages.assembly.assemble import assemble_file
from latchwork.languages.assembly.errors import MOST_PROBLEMS, TITLES
from latchwork.languages.assembly.target import Place, Target
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain_all

FOLDER = Path(__file__).parent / "mistakes"
CASES = sorted(path.stem for path in FOLDER.glob("*.asm"))
ELSEWHERE = {"A162", "A170", "A171", "A172"}  # a warning, and what needs a machine: test_assembly_language, ..._load


def said(name: str, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.chdir(FOLDER)
    with pytest.raises(LatchworkError) as caught:
        assemble_file(Path(f"{name}.asm"), TARGET, most_lines=500)
    return plain_all(caught.value.problems) + "\n"


@pytest.mark.parametrize("name", CASES)
def test_what_is_said(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    text, kept = said(name, monkeypatch), FOLDER / f"{name}.txt"
    if os.environ.get("LATCHWORK_WRITE_MISTAKES"):
        kept.write_text(text)
    assert text == kept.read_text()


def refused(file: Path, target: Target = TARGET) -> str:
    with pytest.raises(LatchworkError) as caught:
        assemble_file(file, target)
    return plain_all(caught.value.problems)


def test_files_that_are_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("large.bin").write_bytes(bytes((1 << 25) + 1))
    Path("a.asm").write_text('        .incbin "large.bin"\n')
    assert refused(Path("a.asm")) == (
        "A103 `large.bin` has more than 33554432 bytes\n  a.asm:1:18\n"
        '      .incbin "large.bin"\n               ^\nhelp: is it the file that is meant?'
    )


def test_bytes_in_a_memory_of_narrow_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("given.bin").write_bytes(b"\x0f\x10")
    Path("a.asm").write_text('        .incbin "given.bin"\n')
    narrow = Target((), (Place("cells", "cells", 0, 16, 4, 4),))
    assert refused(Path("a.asm"), narrow) == (
        "A155 the file has the byte $10, which does not fit into 4 bits\n  a.asm:1:17\n"
        '      .incbin "given.bin"\n              ^\nhelp: a word of `cells` has 4 bits: 0 to 15'
    )


def test_every_code_has_a_case() -> None:
    texts = "".join((FOLDER / f"{name}.txt").read_text() for name in CASES)
    assert set(re.findall(r"^(A\d+) ", texts, re.MULTILINE)) | ELSEWHERE == set(TITLES)


def test_the_number_of_problems_is_bounded(tmp_path: Path) -> None:
    file = tmp_path / "many.asm"
    file.write_text("        wibble\n" * 1000)
    with pytest.raises(LatchworkError) as caught:
        assemble_file(file, TARGET)
    assert len(caught.value.problems) == MOST_PROBLEMS
