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


def test_every_code_has_a_case() -> None:
    texts = "".join((FOLDER / f"{name}.txt").read_text() for name in CASES)
    assert set(re.findall(r"^(A\d+) ", texts, re.MULTILINE)) | ELSEWHERE == set(TITLES)


def test_the_number_of_problems_is_bounded(tmp_path: Path) -> None:
    file = tmp_path / "many.asm"
    file.write_text("        wibble\n" * 1000)
    with pytest.raises(LatchworkError) as caught:
        assemble_file(file, TARGET)
    assert len(caught.value.problems) == MOST_PROBLEMS
