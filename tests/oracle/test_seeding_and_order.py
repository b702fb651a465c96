"""Hashing of power-up values, and the order of evaluation against networkx."""

from __future__ import annotations

from hashlib import blake2b

import networkx
from building import Builder
from hypothesis import given
from hypothesis import strategies as st

from latchwork.engines.ordering import ordered_components
from latchwork.engines.seeding import chip_keys, seeded


def test_the_digest_is_that_of_rfc_7693() -> None:
    """RFC 7693 appendix A: BLAKE2b-512 of "abc" begins BA 80 A5 3F."""
    assert blake2b(b"abc").digest()[:4] == bytes.fromhex("ba80a53f")


def test_values_stay_what_they_are() -> None:
    """Written down once: another engine, process or release has to find the same ones."""
    assert [seeded(seed, "acc.hold.held", 8) for seed in range(4)] == [
        int.from_bytes(blake2b(f"{seed}:acc.hold.held".encode()).digest()[:1], "little") for seed in range(4)
    ]
    assert seeded(7, "x", 1) == seeded(7, "x", 40) & 1


def test_a_label_that_is_shared_gives_way_to_the_reference() -> None:
    builder = Builder()
    for label in ("acc", "acc", "index", ""):
        builder.add("74HCT00", label)
    assert chip_keys(builder.netlist()) == ("U1", "U2", "index", "U4")


graphs = st.integers(1, 12).flatmap(
    lambda n: st.lists(st.lists(st.integers(0, n - 1), max_size=4), min_size=n, max_size=n)
)


@given(graphs)
def test_components_are_those_of_networkx_in_topological_order(successors: list[list[int]]) -> None:
    graph = networkx.DiGraph([(node, other) for node, others in enumerate(successors) for other in others])
    graph.add_nodes_from(range(len(successors)))
    found = ordered_components(successors)
    assert sorted(found) == sorted(tuple(sorted(each)) for each in networkx.strongly_connected_components(graph))
    rank = {node: index for index, component in enumerate(found) for node in component}
    assert all(rank[node] <= rank[other] for node, others in enumerate(successors) for other in others)
