"""The reference page ``docs/microprogram.md`` is one microprogram; its wrong examples give the messages they show."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from latchwork.languages.microprogram.parse import parse_microprogram
from latchwork.problems import LatchworkError

PAGE = Path(__file__).parents[2] / "docs" / "microprogram.md"
FENCE = re.compile(r"^```(.*?)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Mistake:
    before: str
    example: str
    messages: str


def examples() -> tuple[str, list[Mistake]]:
    """The whole microprogram of the page, and its mistakes, each with the part of the page before it."""
    sound, mistakes, wrong = "", [], ""
    for kind, text in FENCE.findall(PAGE.read_text()):
        if kind == "micro":
            sound += text + "\n"
        elif kind == "micro wrong":
            wrong = text
        elif kind == "text":
            mistakes.append(Mistake(sound, wrong, text))
        else:
            raise ValueError(f"a block of the page is marked {kind!r}")
    return sound, mistakes


SOUND, MISTAKES = examples()


def test_the_page_is_a_microprogram() -> None:
    program = parse_microprogram(SOUND)
    assert [i.mnemonic for i in program.instructions] == ["load", "add", "jump", "branch"]
    assert [b.kind for b in program.blocks][-2:] == ["entry", "illegal"]


@pytest.mark.parametrize("mistake", MISTAKES, ids=[m.messages.split()[0] for m in MISTAKES])
def test_a_wrong_example(mistake: Mistake) -> None:
    with pytest.raises(LatchworkError) as raised:
        parse_microprogram(mistake.before + mistake.example)
    shown = [f"{p.code} {p.message}\n" + (f"help: {p.help}\n" if p.help else "") for p in raised.value.problems]
    assert "".join(shown) == mistake.messages


def test_every_wrong_example_has_its_message() -> None:
    assert len(MISTAKES) == PAGE.read_text().count("```micro wrong")
