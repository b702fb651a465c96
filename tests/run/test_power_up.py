"""Power-up contents are told where a program came to depend on them, and not while the reset holds the machine."""

from __future__ import annotations

from pathlib import Path

import pytest

import latchwork

DUNLIN = Path(__file__).parents[2] / "machines" / "dunlin"
FORGETFUL = """
        .section ram
sum:    .reserve 1
        .section rom
start:  clear   acc
        add     [sum]           ; nobody wrote it
        output  acc
        halt
"""


@pytest.mark.parametrize("seed", range(6))
def test_a_sound_program_has_nothing_to_tell(seed: int) -> None:
    machine = latchwork.load(DUNLIN, seed=seed)
    assert machine.run("programs/multiply.asm").happenings == ()


def test_a_cell_that_nobody_wrote(tmp_path: Path) -> None:
    program = tmp_path / "forgetful.asm"
    program.write_text(FORGETFUL)
    machine = latchwork.load(DUNLIN)
    told = machine.run(program).happenings
    assert [(item.kind, item.sentence) for item in told] == [
        (
            "power-up read",
            "6116 U30 (memory.ram) showed a cell that nothing was written to since power-up, the first at address 0x0",
        )
    ]
