"""The order of a block's nets, against networkx; the graph of bits, against whole numbers."""

from __future__ import annotations

from random import Random

import networkx
from hypothesis import given, settings
from hypothesis import strategies as st
from lane_netlists import mixed_faults, onward_netlist

from latchwork.engines.compiled.lanes.differences import Nets
from latchwork.engines.compiled.lanes.graph import Graph, Kind, Literal
from latchwork.engines.compiled.lanes.packing import _Order, packed

NODES = 9
EDGES = st.tuples(st.integers(0, NODES - 1), st.integers(0, NODES - 1)).filter(lambda edge: edge[0] != edge[1])


@given(st.lists(st.lists(EDGES, min_size=1, max_size=4, unique=True), max_size=20))
def test_edges_are_taken_as_long_as_they_close_no_circle(batches: list[list[tuple[int, int]]]) -> None:
    order, graph = _Order(NODES, []), networkx.DiGraph()
    for batch in batches:
        wanted = graph.copy()
        wanted.add_edges_from(batch)
        free = networkx.is_directed_acyclic_graph(wanted)
        assert order.add(batch) is free
        graph = wanted if free else graph


@given(st.lists(st.lists(EDGES, min_size=1, max_size=3, unique=True), max_size=12), st.integers(1, NODES))
def test_circles_are_taken_as_long_as_few_nodes_lie_in_them(batches: list[list[tuple[int, int]]], most: int) -> None:
    order, graph = _Order(NODES, []), networkx.DiGraph()
    for batch in batches:
        wanted = graph.copy()
        wanted.add_edges_from(batch)
        circles = [each for each in networkx.strongly_connected_components(wanted) if len(each) > 1]
        few = sum(map(len, circles)) <= most
        assert order.add_circles(batch, most) is few
        graph = wanted if few else graph


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 500), st.integers(1, 9))
def test_each_machine_comes_into_one_block(seed: int, most: int) -> None:
    netlist = onward_netlist(seed, 12)
    nets = Nets(netlist)
    differences = [nets.difference(faulty) for _, faulty in mixed_faults(netlist, 25, Random(seed))]
    blocks = packed(nets, differences, most)
    assert sorted(number for block in blocks for number in block) == list(range(25))
    assert max(map(len, blocks)) <= most


LANES = 8
STEPS = st.tuples(st.sampled_from("ndcmk"), st.integers(0, 99), st.integers(0, 99), st.integers(0, 99))


@given(st.lists(STEPS, min_size=1, max_size=30), st.lists(st.integers(0, 255), min_size=3, max_size=3))
def test_what_is_folded_means_the_same(steps: list[tuple[str, int, int, int]], leaves: list[int]) -> None:
    """Literals made step by step; each is worked out from its nodes and, beside that, from its arguments' values."""
    graph = Graph(LANES)
    literals: list[Literal] = [graph.leaf(number) for number in range(3)]
    values = list(leaves)
    for kind, *picks in steps:
        a, b, c = (pick % len(literals) for pick in picks)
        x, y, z = values[a], values[b], values[c]
        match kind:
            case "n":
                found, value = graph.both(literals[a], literals[b]) ^ 1, ~(x & y)
            case "d":
                found, value = graph.differ(literals[a], literals[b]), x ^ y
            case "c":
                found, value = graph.choose(literals[a], literals[b], literals[c]), x & y | ~x & z
            case "m":
                found, value = graph.mask(picks[0]), picks[0]
            case _:
                found = graph.any_of([literals[a], literals[b] ^ 1, literals[c]])
                value = x | ~y | z
        literals.append(found)
        values.append(value & graph.full)
    for literal, value in zip(literals, values, strict=True):
        assert _value(graph, literal, leaves) == value


def _value(graph: Graph, literal: Literal, leaves: list[int]) -> int:
    node = graph.nodes[literal >> 1]
    of = [_value(graph, argument, leaves) for argument in graph.arguments(node)]
    match node.kind:
        case Kind.CONSTANT:
            value = 0
        case Kind.MASK:
            value = node.a
        case Kind.LEAF:
            value = leaves[node.a]
        case Kind.AND:
            value = of[0] & of[1]
        case Kind.XOR:
            value = of[0] ^ of[1]
        case _:
            value = of[2] & of[0] | ~of[2] & of[1]
    return (value ^ -(literal & 1)) & graph.full
