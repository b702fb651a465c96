"""Machines whose chips have the figures that a test gives them, on boards that weigh nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from latchwork import Machine
from latchwork.analysis.arrival.clocked import Clocked
from latchwork.analysis.arrival.loads import Boards
from latchwork.analysis.arrival.plain import plain_activity
from latchwork.analysis.arrival.times import Corner
from latchwork.analysis.wiring import Wiring
from latchwork.chips.figures import stated
from latchwork.netlist import Netlist
from latchwork.parts import Figure

WEIGHTLESS = Boards(pin=(0, 0), contact=0, wire=0)


def row(family: str, quantity: str, start: str, end: str = "", edge: str = "", **columns: float) -> Figure:
    """A figure of a book or a sheet that the test names."""
    return stated(family, quantity, start, end, edge=edge, source="as the test says", **columns)


def with_figures(machine: Machine, figures: Mapping[str, tuple[Figure, ...]]) -> Netlist:
    """The machine's netlist, with these figures instead of those of the parts that are named."""
    netlist = machine.netlist()
    parts = tuple(replace(part, figures=figures.get(part.name, part.figures)) for part in netlist.parts)
    return replace(netlist, parts=parts)


def clocked(
    netlist: Netlist, corner: Corner = Corner.MAXIMUM, boards: Boards = WEIGHTLESS, high: float = 0.5
) -> Clocked:
    """The plain analysis."""
    return Clocked(plain_activity(Wiring(netlist), {}), netlist.clock, corner, boards=boards, high=high)
