"""Address and data wires of every ROM in any order: images change, what the machine does on any named net does not.

Common practice: a builder joins ROM pins in the order that makes a tidy board.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from rewiring import Machine, behaviour, rewired

ROOT = Path(__file__).parents[2]
MACHINES = {
    "dunlin": (ROOT / "machines" / "dunlin", "programs/multiply.asm"),
    "redshank": (ROOT / "tests" / "machines" / "redshank", "multiply.asm"),
    "whimbrel": (ROOT / "tests" / "machines" / "whimbrel", "multiply.asm"),
}
TIMES, CLOCKS = 20, 800


@pytest.fixture(scope="module", params=MACHINES)
def machine(request: pytest.FixtureRequest) -> Machine:
    folder, program = MACHINES[request.param]
    return Machine.read(folder, folder / program)


def test_images_follow_the_wires(machine: Machine) -> None:
    contents = machine.contents()
    expected = behaviour(machine, contents, CLOCKS)
    assert len(expected) < CLOCKS, "the program has not come to its end"
    roms = machine.roms()
    assert set(roms) <= set(contents)
    changed = dict.fromkeys(roms, 0)
    for seed in range(TIMES):
        other = rewired(machine, seed)
        images = other.contents()
        for chip in roms:
            changed[chip] += images[chip] != contents[chip]
        assert behaviour(other, images, CLOCKS) == expected, f"seed {seed}"
    assert min(changed.values()) >= TIMES - 2


def test_wires_moved_without_new_images_are_noticed(machine: Machine) -> None:
    """The comparison can fail: old images in a machine whose wires were moved behave otherwise."""
    contents = machine.contents()
    assert behaviour(rewired(machine, 1), contents, 60) != behaviour(machine, contents, 60)
