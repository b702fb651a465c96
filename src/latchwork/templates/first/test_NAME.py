"""Your own tests of your own machine: `pytest` in this folder runs them."""

from pathlib import Path

import latchwork

FOLDER = Path(__file__).parent


def test_count_shows_every_seventh_number() -> None:
    machine = latchwork.load(FOLDER)
    machine.run("count.asm")
    assert machine.output("lamps") == list(range(0, 256, 7))
    assert machine["carry"] == 1
