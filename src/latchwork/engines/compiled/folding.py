"""Expressions with some variables known: constants folded, what is not chosen left out, fixed memories read.

A choice whose condition folds to a constant is followed on that side alone, so that of the whole machine no more is
looked at than what one control word leaves of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from latchwork.engines.compiled.pool import Pool, number
from latchwork.logic import Expression, Operation
from latchwork.logic.evaluate import mask

Fixed = Mapping[str, Sequence[int]]
"""Memories that nothing writes, by name, with their words."""

TABLE_BITS = 4
"""A fixed memory at an address of which so many bits are open becomes choices by them."""


class Dependence:
    """Which nodes of a pool hang on some others, on a fixed memory at a constant address, or on whether a memory was
    written."""

    def __init__(self, leaves: Iterable[Expression], fixed: Fixed) -> None:
        self.leaves = frozenset(leaves)
        self.fixed = fixed
        self._found: dict[Expression, bool] = {}

    def __contains__(self, root: Expression) -> bool:
        found = self._found
        stack = [root]
        while stack:
            node = stack[-1]
            if node in found:
                stack.pop()
                continue
            waiting = [arg for arg in node.args if arg not in found]
            if waiting:
                stack += waiting
                continue
            found[stack.pop()] = self._hangs(node)
        return found[root]

    def _hangs(self, node: Expression) -> bool:
        if node in self.leaves:
            return True
        if node.operation is Operation.READ and (_is_later(node) or self._is_known(node)):
            return True
        return any(self._found[arg] for arg in node.args)

    def _is_known(self, read: Expression) -> bool:
        return read.data in self.fixed and _constant(read.args[0])


class CircularError(Exception):
    """A loop of the machine stays one with what is known."""


class Folder:
    """One set of values: what each leaf is ``known`` to be; a leaf that is not stays as it is.

    ``equations``: leaves that are what another node folds to; ``same``: names of memories that, nothing being written,
    mean what another does. Both may grow as long as nothing that hangs on what comes was folded.
    """

    def __init__(
        self,
        pool: Pool,
        depends: Dependence,
        known: Mapping[Expression, Expression],
        equations: Mapping[Expression, Expression] | None = None,
        same: Mapping[str, str] | None = None,
    ) -> None:
        self.pool = pool
        self.depends = depends
        self.fixed = depends.fixed
        self.equations = {} if equations is None else equations
        self.same = {} if same is None else same
        self.asked: dict[Expression, None] = {}  # bits on which words of fixed memories hang
        self._done = dict(known)

    def fold(self, root: Expression) -> Expression:
        """Raises CircularError where equations hang on each other in a circle."""
        done, stack = self._done, [root]
        open_: set[Expression] = set()  # equations on the way to the top of the stack
        while stack:
            node = stack[-1]
            if node in done:
                open_.discard(stack.pop())
            elif node not in self.depends:
                done[stack.pop()] = node
            elif (wanted := self._wanted(node)) is None:
                done[node] = self._folded(node)
            else:
                if node in self.equations:
                    open_.add(node)
                if wanted in open_:
                    raise CircularError
                stack.append(wanted)
        return done[root]

    def fold_all(self, roots: Iterable[Expression]) -> list[Expression]:
        return [self.fold(root) for root in roots]

    def _wanted(self, node: Expression) -> Expression | None:
        """An argument that has to be folded before the node can be."""
        done = self._done
        match node.operation:
            case Operation.VARIABLE:
                equal = self.equations.get(node)
                return None if equal is None or equal in done else equal
            case Operation.MUX | Operation.CASE:
                select = done.get(node.args[0])
                if select is None:
                    return node.args[0]
                if _constant(select):
                    chosen = _chosen(node, number(select))
                    return None if chosen in done else chosen
            case Operation.AND | Operation.OR:
                absorbing = 0 if node.operation is Operation.AND else mask(node.width)
                for arg in node.args:
                    folded = done.get(arg)
                    if folded is None:
                        return arg
                    if _constant(folded) and number(folded) == absorbing:
                        return None
                return None
        return next((arg for arg in node.args if arg not in done), None)

    def _folded(self, node: Expression) -> Expression:
        done, pool = self._done, self.pool
        match node.operation:
            case Operation.MUX | Operation.CASE if _constant(done[node.args[0]]):
                return done[_chosen(node, number(done[node.args[0]]))]
            case Operation.AND | Operation.OR:
                return self._gate(node)
            case Operation.VARIABLE:
                return done[self.equations[node]] if node in self.equations else node
            case Operation.READ:
                return self._read(node, done[node.args[0]])
            case Operation.SLICE:
                return pool.deep_slice(done[node.args[0]], number(node), node.width)
        return pool.remade(node, [done[arg] for arg in node.args])

    def _gate(self, node: Expression) -> Expression:
        absorbing = 0 if node.operation is Operation.AND else mask(node.width)
        args = []
        for arg in node.args:
            folded = self._done[arg]
            if _constant(folded) and number(folded) == absorbing:
                return folded
            args.append(folded)
        return self.pool.remade(node, args)

    def _read(self, node: Expression, address: Expression) -> Expression:
        memory = str(node.data)
        memory = self.same.get(memory, memory)
        words = self.fixed.get(memory)
        if words is not None and _constant(address):
            return self.pool.constant(words[number(address)], node.width)
        open_ = None if words is None else _open_bits(self.pool, address)
        if words is None or open_ is None:
            return self.pool.read(memory, address, node.width)
        return self._table(words, open_, _low_bits(address), node.width)

    def _table(self, words: Sequence[int], open_: list[tuple[int, Expression]], base: int, width: int) -> Expression:
        """Each bit of a word as choices by the open bits of its address."""
        pool = self.pool

        def choices(bit: int, at: int, left: list[tuple[int, Expression]]) -> Expression:
            if not left:
                return pool.constant(words[at] >> bit)
            place, select = left[-1]
            return pool.choose(select, choices(bit, at | 1 << place, left[:-1]), choices(bit, at, left[:-1]))

        word = pool.join(*(choices(bit, base, open_) for bit in range(width)))
        if not _constant(word):
            self.asked |= dict.fromkeys(bit for _, bit in open_)
        return word


def _chosen(node: Expression, select: int) -> Expression:
    if node.operation is Operation.MUX:
        return node.args[1] if select else node.args[2]
    assert isinstance(node.data, tuple)
    return node.args[1 + node.data.index(select)] if select in node.data else node.args[-1]


def _is_later(node: Expression) -> bool:
    """Whether something is read of a memory after a write."""
    return str(node.data).endswith("'")


def _constant(node: Expression) -> bool:
    return node.operation is Operation.CONSTANT


def _parts(address: Expression) -> tuple[Expression, ...]:
    return address.args if address.operation is Operation.CONCAT else (address,)


def _open_bits(pool: Pool, address: Expression) -> list[tuple[int, Expression]] | None:
    """The bits of an address that are no constants, with their places; None where they are too many."""
    found: list[tuple[int, Expression]] = []
    at = 0
    for part in _parts(address):
        if not _constant(part):
            if len(found) + part.width > TABLE_BITS:
                return None
            found += [(at + bit, pool.slice(part, bit, 1)) for bit in range(part.width)]
        at += part.width
    return found


def _low_bits(address: Expression) -> int:
    """The constant bits of an address, the others 0."""
    value, at = 0, 0
    for part in _parts(address):
        if _constant(part):
            value |= number(part) << at
        at += part.width
    return value


def assume(pool: Pool, node: Expression, value: int, known: dict[Expression, Expression]) -> None:
    """Note that a node has a value, and what follows for the nodes it is made of."""
    if _constant(node):
        return
    known[node] = pool.constant(value, node.width)
    match node.operation:
        case Operation.NOT:
            assume(pool, node.args[0], ~value & mask(node.width), known)
        case Operation.CONCAT:
            for part in node.args:
                assume(pool, part, value & mask(part.width), known)
                value >>= part.width
        case Operation.MUX:
            _assume_choice(pool, node, value, known)


def _assume_choice(pool: Pool, node: Expression, value: int, known: dict[Expression, Expression]) -> None:
    select, *sides = node.args
    possible = [not _constant(side) or number(side) == value for side in sides]
    if sum(possible) == 1:
        assume(pool, select, int(possible[0]), known)
        assume(pool, sides[0] if possible[0] else sides[1], value, known)


def assumable(node: Expression) -> Iterator[Expression]:
    """Every node that ``assume`` may note down."""
    if not _constant(node):
        yield node
        if node.operation in (Operation.NOT, Operation.CONCAT, Operation.MUX):
            for arg in node.args:
                yield from assumable(arg)
