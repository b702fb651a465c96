"""The order in which things that depend on each other are evaluated, loops found on the way."""

from __future__ import annotations

from collections.abc import Sequence


def ordered_components(successors: Sequence[Sequence[int]]) -> list[tuple[int, ...]]:
    """The strongly connected components of a graph, in an order in which edges only run forward.

    Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Comput. 1 (1972), without recursion.
    The members of a component are sorted.
    """
    search = _Search(successors)
    for node in range(len(successors)):
        if search.number[node] < 0:
            search.visit(node)
    return search.found[::-1]


class _Search:
    def __init__(self, successors: Sequence[Sequence[int]]) -> None:
        self.successors = successors
        self.number = [-1] * len(successors)
        self.lowest = [0] * len(successors)
        self.open = [False] * len(successors)
        self.stack: list[int] = []
        self.count = 0
        self.found: list[tuple[int, ...]] = []

    def visit(self, start: int) -> None:
        """Number everything that can be reached from ``start``."""
        path = [(start, iter(self.successors[self._enter(start)]))]
        while path:
            node, following = path[-1]
            for other in following:
                if self.number[other] < 0:
                    path.append((other, iter(self.successors[self._enter(other)])))
                    break
                if self.open[other]:
                    self.lowest[node] = min(self.lowest[node], self.number[other])
            else:
                path.pop()
                self._leave(node)
                if path:
                    above = path[-1][0]
                    self.lowest[above] = min(self.lowest[above], self.lowest[node])

    def _enter(self, node: int) -> int:
        self.number[node] = self.lowest[node] = self.count
        self.count += 1
        self.stack.append(node)
        self.open[node] = True
        return node

    def _leave(self, node: int) -> None:
        if self.lowest[node] != self.number[node]:
            return
        at = self.stack.index(node)
        members = self.stack[at:]
        del self.stack[at:]
        for member in members:
            self.open[member] = False
        self.found.append(tuple(sorted(members)))
