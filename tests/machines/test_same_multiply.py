"""All three machines run the same multiply, over the same pairs of operands.

The algorithm (highest bit of the multiplier first, sixteen bits of product moved left) is the same line for line; how
an instruction is written differs: Whimbrel has no `dec` and adds -1, and Dunlin names its register. Dunlin's own
program of machines/dunlin/programs goes from the lowest bit and needs a shift to the right, which the other two have
not; it is run over the same pairs. Bytes are multiplied, so 255 x 255 is the widest there is.

Outside check: Python's integers.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from latchwork.load.model import load_model
from latchwork.tools.run.running import Running

HERE = Path(__file__).parent
DUNLIN = HERE.parents[1] / "machines" / "dunlin"
PROGRAMS = {
    "dunlin": (DUNLIN, HERE / "dunlin" / "multiply.asm"),
    "dunlin, lowest bit first": (DUNLIN, DUNLIN / "programs" / "multiply.asm"),
    "redshank": (HERE / "redshank", HERE / "redshank" / "multiply.asm"),
    "whimbrel": (HERE / "whimbrel", HERE / "whimbrel" / "multiply.asm"),
}
PAIRS = [
    (0, 0), (0, 255), (255, 0), (1, 1), (1, 255), (255, 1), (2, 128), (128, 128), (16, 16), (13, 11), (13, 19),
    (200, 123), (123, 200), (170, 85), (241, 251), (254, 255), (255, 255),
]  # fmt: skip
ON_THE_ORACLE = [(0, 255), (13, 11), (255, 255)]

# The same instruction in each machine's own words: operation and operand, without the name of the accumulator.
SPELT = {
    "load acc,": "load", "store acc,": "store", "shift left": "double", "rotate left": "double carry",
    "addc": "add carry,", "dec acc": "dec", "add #-1": "dec", "output acc": "output",
}  # fmt: skip


@cache
def running(folder: Path, engine: str) -> Running:
    """Power comes on anew with each program it is given."""
    return Running(load_model(folder), engine=engine)


def with_operands(program: Path, a: int, b: int, folder: Path) -> Path:
    """The program with other operands than the 200 and 123 that stand in it."""
    text, count = re.subn(r"^(multiplicand = |multiplier   = )(200|123)$", r"\1{}", program.read_text(), flags=re.M)
    assert count == 2
    written = folder / program.name
    written.write_text(text.format(a, b))
    return written


def product(machine: str, a: int, b: int, folder: Path, engine: str) -> int | None:
    """What the lamps show, high byte first, once the machine has halted of itself with nothing amiss."""
    home, program = PROGRAMS[machine]
    machine_on = running(home, engine)
    report = machine_on.run(with_operands(program, a, b, folder), clocks=4000)
    assert (report.stop, report.happenings) == ("halt", ())
    high, low = machine_on.output("lamps")
    assert high is not None
    assert low is not None
    return high << 8 | low


@pytest.mark.parametrize("machine", PROGRAMS)
@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_the_product_is_that_of_integers(machine: str, a: int, b: int, tmp_path: Path) -> None:
    assert product(machine, a, b, tmp_path, "compiled") == a * b


@pytest.mark.parametrize("machine", PROGRAMS)
@pytest.mark.parametrize(("a", "b"), ON_THE_ORACLE)
def test_the_oracle_multiplies_the_same(machine: str, a: int, b: int, tmp_path: Path) -> None:
    assert product(machine, a, b, tmp_path, "oracle") == a * b


def test_the_three_programs_are_one_algorithm() -> None:
    dunlin, redshank, whimbrel = (lines(PROGRAMS[machine][1]) for machine in ("dunlin", "redshank", "whimbrel"))
    assert dunlin == redshank == whimbrel
    assert len(dunlin) == 46


def lines(program: Path) -> list[str]:
    """The lines that say something, in one spelling."""
    texts = (" ".join(line.split(";")[0].split()) for line in program.read_text().splitlines())
    return [_in_one_spelling(text) for text in texts if text]


def _in_one_spelling(text: str) -> str:
    for written, meant in SPELT.items():
        text = re.sub(rf"{re.escape(written)}(?=\s|$)", meant, text)
    return text
