"""Boolean functions as decision diagrams, and sums of products that cover them without a superfluous term.

A function is a number: 0 and 1 are the constants, others index nodes (variable, function where it is 0, function where
it is 1). Equal functions are equal numbers. The sums are found by S. Minato's recursion ("Fast generation of prime
irredundant covers from binary decision diagrams", IEICE Transactions 1993), tried with several orders of the variables.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

NEVER, ALWAYS = 0, 1
MOST_NODES = 200_000
MOST_TERMS = 128
FEW_ORDERS = 4
MOST_WORK = 250_000
"""Nodes and choices worked on for one sum; a second or two."""

Term = tuple[tuple[int, int], ...]
"""(variable, level) pairs, all of which have to hold."""


class TooLarge(Exception):  # noqa: N818  a name that reads well where it is raised
    """The function has more nodes or terms than are worked on."""


class Functions:
    """A store of functions; variables are tested in the order of their numbers."""

    def __init__(self, most: int = 0) -> None:
        self.most = most or MOST_NODES
        self.nodes: list[tuple[int, int, int]] = [(1 << 30, 0, 0), (1 << 30, 1, 1)]
        self._known: dict[tuple[int, int, int], int] = {}
        self._chosen: dict[tuple[int, int, int], int] = {}

    def node(self, test: int, low: int, high: int) -> int:
        if low == high:
            return low
        key = (test, low, high)
        found = self._known.get(key)
        if found is None:
            if len(self.nodes) >= self.most:
                raise TooLarge
            found = self._known[key] = len(self.nodes)
            self.nodes.append(key)
        return found

    @property
    def work(self) -> int:
        """How much was worked out in this store."""
        return len(self.nodes) + len(self._chosen)

    def variable(self, number: int) -> int:
        return self.node(number, NEVER, ALWAYS)

    def choose(self, condition: int, yes: int, no: int) -> int:
        """``yes`` where the condition is 1, else ``no``."""
        if condition <= ALWAYS or yes == no:
            return yes if condition == ALWAYS or yes == no else no
        if (yes, no) == (ALWAYS, NEVER):
            return condition
        key = (condition, yes, no)
        found = self._chosen.get(key)
        if found is None:
            if len(self._chosen) >= 2 * self.most:
                raise TooLarge
            test = min(self.nodes[each][0] for each in key)
            low, high = (self.choose(*(self.part(each, test, level) for each in key)) for level in (0, 1))
            found = self._chosen[key] = self.node(test, low, high)
        return found

    def part(self, function: int, test: int, level: int) -> int:
        """The function where the variable ``test``, which is not behind its first, has a level."""
        node = self.nodes[function]
        return node[1 + level] if node[0] == test else function

    def invert(self, a: int) -> int:
        return self.choose(a, NEVER, ALWAYS)

    def both(self, a: int, b: int) -> int:
        return self.choose(a, b, NEVER)

    def either(self, a: int, b: int) -> int:
        return self.choose(a, ALWAYS, b)

    def differ(self, a: int, b: int) -> int:
        return self.choose(a, self.invert(b), b)

    def variables(self, function: int) -> list[int]:
        """The variables that the function depends on."""
        found, seen, todo = set(), {NEVER, ALWAYS}, [function]
        while todo:
            each = todo.pop()
            if each not in seen:
                seen.add(each)
                test, low, high = self.nodes[each]
                found.add(test)
                todo += (low, high)
        return sorted(found)

    def reordered(self, function: int, order: Sequence[int], into: Functions) -> int:
        """The function in another store, where the variable ``order[n]`` has the number n."""
        place = {variable: number for number, variable in enumerate(order)}
        done = {NEVER: NEVER, ALWAYS: ALWAYS}

        def moved(each: int) -> int:
            if each not in done:
                test, low, high = self.nodes[each]
                done[each] = into.choose(into.variable(place[test]), moved(high), moved(low))
            return done[each]

        return moved(function)


def sum_of_products(functions: Functions, function: int, room: int = 1) -> list[Term]:
    """Few terms whose sum is the function. Several orders of the variables are tried: some where the terms have room,
    more where there are too many. Raises TooLarge."""
    best: list[Term] | None = None
    work = 0
    for tried, order in enumerate(_orders(functions.variables(function)), 1):
        store = Functions(MOST_WORK // 8)
        found = _cover_in_order(functions, function, order, store)
        work += store.work
        if found is not None and (best is None or len(found) < len(best)):
            best = found
        if work > MOST_WORK or (best is not None and (len(best) <= 1 or (tried >= FEW_ORDERS and len(best) <= room))):
            break
    if best is None:
        raise TooLarge
    return best


def _orders(variables: list[int]) -> Iterator[tuple[int, ...]]:
    """Each variable first once, and each of these orders backwards; of many variables not all."""
    for turn in range(max(1, min(len(variables), 12))):
        turned = (*variables[turn:], *variables[:turn])
        yield turned
        yield turned[::-1]


def _cover_in_order(functions: Functions, function: int, order: Sequence[int], store: Functions) -> list[Term] | None:
    """The terms found in one order, worked out in an empty store; None where they are too many."""
    try:
        moved = functions.reordered(function, order, store)
        _, terms = _Cover(store).between(moved, moved)
    except TooLarge:
        return None
    return [tuple(sorted((order[test], level) for test, level in term)) for term in terms]


class _Cover:
    """Minato's recursion with its results kept."""

    def __init__(self, functions: Functions) -> None:
        self.functions = functions
        self._known: dict[tuple[int, int], tuple[int, list[Term]]] = {}

    def between(self, least: int, most: int) -> tuple[int, list[Term]]:
        """A function that covers ``least`` and lies within ``most``, and its terms."""
        if least == NEVER:
            return NEVER, []
        if most == ALWAYS:
            return ALWAYS, [()]
        key = (least, most)
        if key not in self._known:
            self._known[key] = self._split(least, most)
        return self._known[key]

    def _split(self, least: int, most: int) -> tuple[int, list[Term]]:
        store = self.functions
        test = min(store.nodes[least][0], store.nodes[most][0])
        least0, least1 = (store.part(least, test, level) for level in (0, 1))
        most0, most1 = (store.part(most, test, level) for level in (0, 1))
        low, low_terms = self.between(store.both(least0, store.invert(most1)), most0)
        high, high_terms = self.between(store.both(least1, store.invert(most0)), most1)
        left = store.either(store.both(least0, store.invert(low)), store.both(least1, store.invert(high)))
        rest, rest_terms = self.between(left, store.both(most0, most1))
        terms = [((test, 0), *term) for term in low_terms] + [((test, 1), *term) for term in high_terms] + rest_terms
        if len(terms) > MOST_TERMS:
            raise TooLarge
        return store.choose(store.variable(test), store.either(high, rest), store.either(low, rest)), terms
