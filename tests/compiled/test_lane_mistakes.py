"""Mistakes put into the lanes, each of which the comparison with the oracle has to tell: mutation testing, as is common
practice."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from random import Random
from typing import Any

import pytest
from lane_netlists import mixed_faults, onward_netlist
from test_faulty_machines import compared

from latchwork.engines.compiled.lanes import block_graph, building
from latchwork.engines.compiled.lanes.block_code import Compiler
from latchwork.engines.compiled.lanes.block_graph import BlockGraph
from latchwork.engines.compiled.lanes.differences import Nets
from latchwork.engines.compiled.lanes.graph import Graph
from latchwork.engines.compiled.lanes.images import Images
from latchwork.engines.compiled.lanes.levels import Levels

Bug = tuple[Any, str, Callable[[Any], Any]]
MOST = 40

BUGS: dict[str, Bug] = {
    "a choice is turned round": (Graph, "choose", lambda right: lambda self, s, a, b: right(self, s, b, a)),
    "exclusive or is or": (Graph, "differ", lambda right: Graph.either),
    "open inputs read low": (Levels, "_read", lambda right: lambda self, net, cmos: right(self, net, True)),
    "keepers are forgotten": (Levels, "_carried", lambda right: Levels._without_keepers),
    "pulls are strong": (
        Levels,
        "_filled",
        lambda right: lambda self, first, second: right(self, second, first),
    ),
    "data are taken after the edge": (BlockGraph, "before", lambda right: lambda self, literal: literal),
    "levels are ignored": (
        block_graph,
        "_following",
        lambda right: lambda block, levels, number, kept: right(block, levels, number, _without_levels(kept)),
    ),
    "power-up is all low": (building.Builder, "_set_power_up", lambda right: lambda self, block, graph: None),
    "memories hold nothing": (
        Images,
        "planes",
        lambda right: lambda self, store: [bytes(len(plane)) for plane in right(self, store)],
    ),
    "faults are forgotten": (Nets, "difference", lambda right: lambda self, faulty: self.none),
    "a write is lost": (Compiler, "_written", lambda right: lambda self, writes: right(self, writes[:-1])),
}


def _without_levels(kept: Any) -> Any:
    return replace(kept, levels=())


def told() -> bool:
    """Whether some machine differs from its oracle."""
    for number in range(MOST):
        netlist = onward_netlist(number, 24)
        try:
            compared(netlist, mixed_faults(netlist, 6, Random(number)), number, ticks=12)
        except AssertionError:
            return True
    return False


@pytest.mark.parametrize("bug", BUGS)
def test_the_mistake_is_told(bug: str, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, wrong = BUGS[bug]
    monkeypatch.setattr(where, name, wrong(getattr(where, name)))
    assert told()


def test_without_a_mistake_nothing_differs() -> None:
    assert not told()
