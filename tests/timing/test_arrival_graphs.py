"""Longest and shortest ways through random circuits, against the ``networkx`` library on a graph built here.

The graph of the test is made from the gates as they were drawn, by rules of its own: a nand and an inverter turn an
edge round, an and and an or keep it, an exclusive or may do either.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import pairwise

import networkx as nx
import pytest
from weighed import clocked, row, with_figures

from latchwork import HIGH, LOW, OPEN, Machine
from latchwork.analysis.arrival.clocked import Clocked

KINDS = {
    "nand": (1, "74LS00"),
    "and": (0, "74LS08"),
    "or": (0, "74LS32"),
    "xor": (2, "74LS86"),
    "inverter": (1, "74LS04"),
}
Gate = tuple[str, list[str], str]


class Circuit:
    """Four registers, gates after them in random order, and the last nets back into the registers."""

    def __init__(self, seed: int) -> None:
        self.chance = chance = random.Random(seed)
        m = Machine("random", family="LS")
        clock = m.clock(1_000_000)
        nets = [m.net(f"q{number}") for number in range(4)]
        names = [f"q{number}" for number in range(4)]
        self.gates: list[Gate] = []
        for number in range(chance.randint(3, 25)):
            kind = chance.choice(list(KINDS))
            taken = chance.sample(range(len(nets)), 1 if kind == "inverter" else 2)
            out = m.net(f"n{number}")
            m.gate(kind, *(nets[at] for at in taken), out=out)
            self.gates.append((kind, [names[at] for at in taken], f"n{number}"))
            nets.append(out)
            names.append(f"n{number}")
        self.ends = names[-4:]
        m.chip("175", CLK=clock, CLR_n=HIGH, D=nets[-4:], Q=nets[:4], Q_n=[OPEN] * 4)
        self.delays = {name: (chance.randint(1, 40), chance.randint(1, 40)) for _, name in KINDS.values()}
        figures = {
            name: tuple(
                row("LS", "delay", pin, "Y", edge, minimum=time, maximum=time)
                for pin in ("A", "B")[: 1 if name == "74LS04" else 2]
                for edge, time in zip(("fall", "rise"), times, strict=True)
            )
            for name, times in self.delays.items()
        }
        figures["74LS175"] = (
            row("LS", "delay", "CLK", "Q", minimum=5, maximum=5),
            row("LS", "setup", "D", "CLK", minimum=3),
            row("LS", "hold", "D", "CLK", minimum=0),
        )
        self.netlist = with_figures(m, figures)

    def graph(self) -> nx.DiGraph:
        graph = nx.DiGraph()
        for number in range(4):
            for edge in (0, 1):
                graph.add_edge("clock", (f"q{number}", edge), weight=5)
        for kind, inputs, out in self.gates:
            way, part = KINDS[kind]
            for name in inputs:
                for start, end in _edges(way):
                    graph.add_edge((name, start), (out, end), weight=self.delays[part][end])
        return graph


def _edges(way: int) -> Iterator[tuple[int, int]]:
    for start in (0, 1):
        if way in (0, 2):
            yield start, start
        if way in (1, 2):
            yield start, 1 - start


def arrivals(found: Clocked, *, latest: bool) -> dict[tuple[str, int], int]:
    """(net, edge) -> ns after the rising edge."""
    runs = found.latest if latest else found.earliest
    result: dict[tuple[str, int], int] = {}
    choose = max if latest else min
    for data in runs[1].data.values():
        for place, pieces in enumerate(data):
            for piece in pieces:
                key = (found.netlist.nets[place // 2].name, place & 1)
                result[key] = choose(result.get(key, piece.time // 1000), piece.time // 1000)
    return result


@pytest.mark.parametrize("seed", range(60))
def test_ways_are_those_of_networkx(seed: int) -> None:
    circuit = Circuit(seed)
    graph = circuit.graph()
    found = clocked(circuit.netlist)
    late, early = arrivals(found, latest=True), arrivals(found, latest=False)
    shortest = nx.single_source_dijkstra_path_length(graph, "clock")
    longest = _longest(graph)
    for place in graph:
        if place != "clock":
            assert late[place] == longest[place]
            assert early[place] == shortest[place]
    period = max(longest[end, edge] for end in circuit.ends for edge in (0, 1) if (end, edge) in longest) + 3
    assert found.limits[0].period == period * 1000


def _longest(graph: nx.DiGraph) -> dict[object, int]:
    """By ``dag_longest_path_length`` of what leads to each node."""
    found = {}
    for place in graph:
        before = graph.subgraph({place, *nx.ancestors(graph, place)})
        found[place] = nx.dag_longest_path_length(before)
    return found


def test_a_way_can_be_added_up() -> None:
    """The arcs that are shown for a limit add up to its arrival, each beginning where the last one ended."""
    for seed in range(30):
        found = clocked(Circuit(seed).netlist)
        limit = found.limits[0]
        arcs = found.way(limit)
        assert sum(arc.picoseconds for _, arc in arcs) == limit.arrival == arcs[-1][0]
        assert all(before.end == after.start for (_, before), (_, after) in pairwise(arcs))
        assert arcs[-1][1].end == limit.node


def test_a_ring_of_gates_is_cut_and_named() -> None:
    """Two gates that feed each other: the analysis ends, and says where it cut."""
    m = Machine("ring", family="LS")
    clock = m.clock(1_000_000)
    q, a, b = m.net("q"), m.net("a"), m.net("b")
    m.gate("nand", q, b, out=a)
    m.gate("nand", a, q, out=b)
    m.chip("175", CLK=clock, CLR_n=HIGH, D=[a, LOW, LOW, LOW], Q=[q, OPEN, OPEN, OPEN], Q_n=[OPEN] * 4)
    found = clocked(m.netlist())
    assert found.limits
    assert {found.netlist.nets[arc.end // 2].name for arc in found.cut} <= {"a", "b"}
    assert found.cut
