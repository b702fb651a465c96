"""Bits of a block of machines as a graph: and, exclusive or, choice; equal nodes are one node.

A *literal* is twice the number of a node, plus one where it is inverted. Node 0 is the constant: literal 0 is 0 in
every lane, literal 1 is 1. A mask is a node that holds a number, one bit a lane; lane 0 is the machine without a fault,
for which a mask is always kept 0 (its inverse stands for the other).
"""

from __future__ import annotations

from enum import IntEnum
from typing import NamedTuple

ZERO, ONE = 0, 1
Literal = int


class Kind(IntEnum):
    CONSTANT = 0
    MASK = 1  # a: the number
    LEAF = 2  # a: number of the leaf
    READ = 3  # a: number of the read, b: bit of the word
    HOLD = 4  # a: number of the hold; what it stands for is said later
    AND = 5
    XOR = 6  # a and b are never inverted
    CHOICE = 7  # a where c is 1, b where it is 0; a and c are never inverted
    COPY = 8  # a, so that it can be read after what it is made of has changed


class Node(NamedTuple):
    kind: Kind
    a: int = 0
    b: int = 0
    c: int = 0


class Read(NamedTuple):
    """Words of a memory at an address, lowest bit first. ``memory``: whatever tells the memory."""

    memory: object
    address: tuple[Literal, ...]
    width: int


class Graph:
    """Makes nodes; every method folds what is constant. ``lanes``: how many bits a mask has."""

    def __init__(self, lanes: int = 1) -> None:
        self.full = (1 << lanes) - 1
        self.nodes: list[Node] = [Node(Kind.CONSTANT)]
        self.reads: list[Read] = []
        self.holds = 0
        self._made: dict[Node, int] = {}
        self._read_numbers: dict[Read, int] = {}

    def _literal(self, node: Node) -> Literal:
        found = self._made.get(node)
        if found is None:
            found = self._made[node] = len(self.nodes) << 1
            self.nodes.append(node)
        return found

    def leaf(self, number: int) -> Literal:
        return self._literal(Node(Kind.LEAF, number))

    def mask(self, lanes: int) -> Literal:
        """1 in the lanes whose bit is set."""
        if lanes & 1:
            return self.mask(self.full & ~lanes) ^ 1
        return self._literal(Node(Kind.MASK, lanes)) if lanes else ZERO

    def hold(self) -> Literal:
        """A literal whose meaning is said later."""
        self.holds += 1
        return self._literal(Node(Kind.HOLD, self.holds - 1))

    def copy(self, literal: Literal) -> Literal:
        """The literal once more, with a place of its own."""
        return self._literal(Node(Kind.COPY, literal))

    def read(self, memory: object, address: tuple[Literal, ...], width: int) -> list[Literal]:
        """The bits of a memory's word."""
        key = Read(memory, address, width)
        number = self._read_numbers.get(key)
        if number is None:
            number = self._read_numbers[key] = len(self.reads)
            self.reads.append(key)
        return [self._literal(Node(Kind.READ, number, bit)) for bit in range(width)]

    def mask_of(self, literal: Literal) -> int | None:
        """The lanes of a literal that is a mask or constant."""
        node = self.nodes[literal >> 1]
        if node.kind > Kind.MASK:
            return None
        return self.full & ~node.a if literal & 1 else node.a

    def both(self, a: Literal, b: Literal) -> Literal:
        if a > b:
            a, b = b, a
        if a < 2:
            return b if a else ZERO
        if a ^ b < 2:
            return ZERO if a ^ b else a
        one, other = self.nodes[a >> 1], self.nodes[b >> 1]
        if one.kind is Kind.MASK and other.kind is Kind.MASK:
            return self.mask((self.mask_of(a) or 0) & (self.mask_of(b) or 0))
        for x, y, node in ((a, b, other), (b, a, one)):
            if node.kind is Kind.AND and (x ^ 1 in (node.a, node.b) or x in (node.a, node.b)):
                return self._absorbed(x, y, node)
        return self._literal(Node(Kind.AND, a, b))

    def _absorbed(self, x: Literal, y: Literal, node: Node) -> Literal:
        """x and y, where y is an and-node (or the inverse of one) of x or its inverse."""
        if not y & 1:
            return ZERO if x ^ 1 in (node.a, node.b) else y
        if x ^ 1 in (node.a, node.b):
            return x
        return self.both(x, (node.b if node.a == x else node.a) ^ 1)

    def either(self, a: Literal, b: Literal) -> Literal:
        return self.both(a ^ 1, b ^ 1) ^ 1

    def any_of(self, literals: list[Literal]) -> Literal:
        lanes, found = 0, ZERO
        for each in literals:
            mask = self.mask_of(each)
            if mask is None:
                found = self.either(found, each)
            else:
                lanes |= mask
        return self.either(self.mask(lanes), found)

    def differ(self, a: Literal, b: Literal) -> Literal:
        turned = (a ^ b) & 1
        a, b = a & ~1, b & ~1
        if a > b:
            a, b = b, a
        if a in (ZERO, b):
            return (ZERO if a == b else b) ^ turned
        one, other = self.nodes[a >> 1], self.nodes[b >> 1]
        if one.kind is Kind.MASK and other.kind is Kind.MASK:
            return self.mask(one.a ^ other.a) ^ turned
        return self._literal(Node(Kind.XOR, a, b)) ^ turned

    def choose(self, select: Literal, yes: Literal, no: Literal) -> Literal:
        if select & 1:
            select, yes, no = select ^ 1, no, yes
        if select == ZERO or yes == no:
            return no
        if yes ^ no == 1:
            return self.differ(select, no)
        if yes < 2 or yes >> 1 == select >> 1:
            return self.either(select, no) if yes in (ONE, select) else self.both(select ^ 1, no)
        if no < 2 or no >> 1 == select >> 1:
            return self.both(select, yes) if no in (ZERO, select) else self.either(select ^ 1, yes)
        turned = yes & 1
        return self._literal(Node(Kind.CHOICE, yes ^ turned, no ^ turned, select)) ^ turned

    def majority(self, a: Literal, b: Literal, c: Literal) -> Literal:
        return self.choose(self.differ(a, b), c, a)

    def arguments(self, node: Node) -> tuple[Literal, ...]:
        """What a node is made of; a read's is its address."""
        if node.kind is Kind.CHOICE:
            return node.a, node.b, node.c
        if node.kind in (Kind.AND, Kind.XOR):
            return node.a, node.b
        if node.kind is Kind.COPY:
            return (node.a,)
        return self.reads[node.a].address if node.kind is Kind.READ else ()
