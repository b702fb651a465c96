"""Which nets depend on which, by the chips between them: the graph in whose order a block is worked out.

Node 2 n stands for what drives net n, node 2 n + 1 for what it carries, resistors and keepers included. A rail depends
on nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from latchwork.engines.compiled.lanes.template import Template
from latchwork.netlist import NetId
from latchwork.parts import TieKind

Edge = tuple[int, int]
Pins = Sequence[Collection[NetId]]
"""For each pin of a chip the nets that it may lie on."""


def driving(net: NetId) -> int:
    return 2 * net


def carrying(net: NetId) -> int:
    return 2 * net + 1


def edges_of(template: Template, pins: Pins, rails: Collection[NetId]) -> Iterator[Edge]:
    """From each net that a chip reads to each that then depends on it."""
    for output in template.outputs:
        targets = [driving(net) for net in pins[output.pin] if net not in rails]
        for pin in output.inputs if targets else ():
            for net in pins[pin]:
                yield from ((carrying(net), target) for target in targets)
    for tie in template.part.behaviour.ties:
        if tie.kind is TieKind.RESISTOR:
            ends = [pins[template.part.ports[name][0]] for name in (tie.a, tie.b)]
            for here, there in (ends, ends[::-1]):
                yield from ((driving(a), carrying(b)) for a in here for b in there if a != b and b not in rails)
