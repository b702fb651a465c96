"""Dunlin, read once for all tests of this folder."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from latchwork.languages.microprogram.flat import FlatProgram
from latchwork.languages.microprogram.parse import parse_microprogram
from latchwork.load.machine import LoadedMachine, read_machine

DUNLIN = Path(__file__).parents[2] / "machines" / "dunlin"


@cache
def dunlin() -> LoadedMachine:
    return read_machine(DUNLIN)


@cache
def flat() -> FlatProgram:
    return parse_microprogram(DUNLIN / "dunlin.micro")


def chip_labelled(end: str) -> int:
    """The chip whose label ends so."""
    found = [i for i, chip in enumerate(dunlin().netlist.chips) if chip.label.endswith(end)]
    assert len(found) == 1, (end, found)
    return found[0]
