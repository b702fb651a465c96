"""A graph as a list of operations on rows.

A row holds one bit of each lane. Operations of one kind stand together in groups as far as what they need allows, so
that whoever carries them out seldom has to look what comes next. Rows are used again once nobody reads them.

A loop is worked out with two rows a node: where it can be 1, and where it can be 0. From "either" everywhere it is
gone through until nothing changes; what is then certain holds whichever way the machine got there. A lane in which
something stays open is *stuck*: it is left to an engine of its own.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Callable, Iterable, Sequence

from latchwork.engines.compiled.lanes.graph import Graph, Kind, Literal, Node
from latchwork.engines.compiled.lanes.levels import Loop
from latchwork.engines.compiled.lanes.operations import ONES, ROW, ZEROS, Code, Op, Rows


class Scheduler:
    """Writes ``code`` for what is asked for, in the order in which it is asked for."""

    def __init__(self, graph: Graph, loops: Sequence[Loop], roots: Iterable[Literal]) -> None:
        self.graph = graph
        self.code = Code()
        self.rows = Rows()
        self.row: dict[int, int] = {0: ZEROS}
        self.addresses: dict[tuple[Literal, ...], int] = {}
        self.reads: list[tuple[int, int]] = []  # number in the graph, and which byte of the word
        self._read_rows: dict[int, list[int]] = {}
        self._inverted: dict[int, int] = {}
        self._zero_row: dict[int, int] = {}  # of nodes of a loop: the row that says where it can be 0
        self._unknown_rows: dict[int, int] = {}
        roots = list(roots)
        self._lasting = {root >> 1 for root in roots}
        definitions = [each for loop in loops for pair in loop.holds for each in pair]
        self._uses = self._counted([*roots, *definitions])
        for loop in loops:
            if loop.holds:
                self._loop(loop)

    # What others ask for

    def place(self, literal: Literal) -> int:
        """The row of a literal that is scheduled, plus 1 where it is inverted."""
        number = literal >> 1
        if number not in self.row:
            self.row[number] = self._constant_row(self.graph.nodes[number])
        return self.row[number] * ROW + (literal & 1)

    def schedule(self, literals: Iterable[Literal]) -> None:
        """Work out what is not yet worked out."""
        needed = self._needed([literal >> 1 for literal in literals])
        self._in_turn(needed, lambda number: [self._operation(number)], lambda op, number, _: self._write(op, number))

    def _in_turn(
        self, needed: Sequence[int], operations: Callable[[int], Sequence[Op]], write: Callable[[Op, int, int], None]
    ) -> None:
        """Write the operations of each node once all that it is made of is written, those of one kind together."""
        waiting, users = self._waiting(needed)
        left = {number: operations(number) for number in needed}
        ready: dict[Op, deque[tuple[int, int]]] = defaultdict(deque)

        def open_up(number: int) -> None:
            for place, op in enumerate(left[number]):
                ready[op].append((number, place))

        for number in needed:
            if not waiting[number]:
                open_up(number)
        done: dict[int, int] = defaultdict(int)
        while ready:
            op = max(ready, key=lambda each: len(ready[each]))
            queue = ready[op]
            while queue:
                number, place = queue.popleft()
                write(op, number, place)
                done[number] += 1
                for user in users[number] if done[number] == len(left[number]) else ():
                    waiting[user] -= 1
                    if not waiting[user]:
                        open_up(user)
            del ready[op]

    def _waiting(self, needed: Sequence[int]) -> tuple[dict[int, int], dict[int, list[int]]]:
        """Of each node how many that it is made of are yet to be written, and who is made of it."""
        waiting = dict.fromkeys(needed, 0)
        users: dict[int, list[int]] = defaultdict(list)
        for number in needed:
            for argument in {each >> 1 for each in self.graph.arguments(self.graph.nodes[number])}:
                if argument in waiting:
                    waiting[number] += 1
                    users[argument].append(number)
        return waiting, users

    # Counting

    def _counted(self, literals: Iterable[Literal]) -> dict[int, int]:
        """How often each node is read."""
        uses: dict[int, int] = defaultdict(int)
        waiting = list({literal >> 1 for literal in literals})
        seen = set(waiting)
        while waiting:
            for argument in self.graph.arguments(self.graph.nodes[waiting.pop()]):
                uses[argument >> 1] += 1
                if argument >> 1 not in seen:
                    seen.add(argument >> 1)
                    waiting.append(argument >> 1)
        return uses

    def _needed(self, numbers: Iterable[int]) -> list[int]:
        """Nodes that are to be worked out, arguments first."""
        seen: set[int] = set()
        waiting = [number for number in numbers if self._is_open(number)]
        seen.update(waiting)
        while waiting:
            for argument in self.graph.arguments(self.graph.nodes[waiting.pop()]):
                number = argument >> 1
                if number not in seen and self._is_open(number):
                    seen.add(number)
                    waiting.append(number)
        return sorted(seen)

    def _is_open(self, number: int) -> bool:
        return number not in self.row and self.graph.nodes[number].kind > Kind.LEAF

    # Single operations

    def _operation(self, number: int) -> Op:
        node = self.graph.nodes[number]
        match node.kind:
            case Kind.AND:
                return (Op.AND, Op.AND_NOT, Op.NOR)[(node.a & 1) + (node.b & 1)]
            case Kind.XOR:
                return Op.XOR
            case Kind.CHOICE:
                return Op.CHOOSE_NOT if node.b & 1 else Op.CHOOSE
            case Kind.COPY:
                return Op.COPY
            case Kind.READ:
                return Op.READ
            case _:
                raise AssertionError(f"{node} is never worked out")

    def _write(self, op: Op, number: int) -> None:
        node = self.graph.nodes[number]
        if op is Op.READ:
            self.row[number] = self._rows_of_read(node.a)[node.b]
            return
        sources = self._sources(op, node)
        for argument in self.graph.arguments(node):
            self._read_once(argument >> 1)
        self.row[number] = self.rows.take(again=number not in self._lasting)
        self.code.add(op, self.row[number] * ROW, *sources)

    def _sources(self, op: Op, node: Node) -> list[int]:
        if op is Op.COPY:
            return [self.place(node.a)]
        literals = [node.a, node.b]
        if op is Op.AND_NOT and node.a & 1:
            literals.reverse()
        if node.kind is Kind.CHOICE:
            literals.insert(0, node.c)
        return [self.place(each) & ~1 for each in literals]

    def _read_once(self, number: int) -> None:
        """One reader fewer; the row of a node that nobody reads any more is free."""
        self._uses[number] -= 1
        kind = self.graph.nodes[number].kind
        if not self._uses[number] and number not in self._lasting and kind in (Kind.AND, Kind.XOR, Kind.CHOICE):
            self.rows.free.append(self.row[number])

    def _rows_of_read(self, read: int) -> list[int]:
        if read not in self._read_rows:
            row = self.graph.reads[read]
            self.address(row.address)
            self._read_rows[read] = [self.rows.take() for _ in range(row.width)]
            for byte in range(-(-row.width // 8)):
                self.code.add(Op.READ, len(self.reads))
                self.reads.append((read, byte))
        return self._read_rows[read]

    def rows_of(self, read: int, byte: int) -> list[int]:
        """The rows that a read of the code fills."""
        return self._read_rows[read][8 * byte : 8 * byte + 8]

    def address(self, address: tuple[Literal, ...]) -> None:
        """Put an address together, for all that is read or written by it; its bits are scheduled."""
        if address not in self.addresses:
            self.addresses[address] = len(self.addresses)
            for literal in address:
                self._lasting.add(literal >> 1)
                self.place(literal)
        self.code.add(Op.ADDRESS, self.addresses[address])

    def _constant_row(self, node: Node) -> int:
        row = self.rows.take()
        if node.kind is Kind.MASK:
            self.rows.masks[row] = node.a
        else:
            assert node.kind is Kind.LEAF, node
        return row

    # Loops

    def _loop(self, loop: Loop) -> None:
        definitions = [each >> 1 for _, each in loop.holds]
        inner = self._inner({hold >> 1 for hold, _ in loop.holds}, definitions)
        self._outside_of(inner, definitions)
        self.code.mark()
        for hold, _ in loop.holds:
            self._pair(hold >> 1)
            for row in (self.row[hold >> 1], self._zero_row[hold >> 1]):
                self.code.add(Op.LOOP, row * ROW)
        back = self.code.mark()
        self._in_turn(inner, self._pair_operations, self._in_pairs)
        records = []
        for hold, following in loop.holds:
            one, zero = self._sides(following)
            records.append((self.row[hold >> 1] * ROW, self._zero_row[hold >> 1] * ROW, one, zero))
        self.code.again(back, records)
        for hold, _ in loop.holds:
            self.code.add(Op.OPEN, self.row[hold >> 1] * ROW, self._zero_row[hold >> 1] * ROW)

    def _inner(self, holds: set[int], definitions: Sequence[int]) -> list[int]:
        """The nodes between holds and what they become, arguments first."""
        depends = dict.fromkeys(holds, True)
        found = []
        for number in self._needed(definitions):
            if number in holds:
                continue
            arguments = self.graph.arguments(self.graph.nodes[number])
            depends[number] = any(depends.get(argument >> 1, False) for argument in arguments)
            if depends[number]:
                found.append(number)
        return found

    def _outside_of(self, inner: Sequence[int], definitions: Sequence[int]) -> None:
        """Work out what a loop reads and is not part of it; that has to last while the loop is gone through."""
        inside = set(inner)
        arguments = {each >> 1 for number in inner for each in self.graph.arguments(self.graph.nodes[number])}
        outside = {
            number for number in arguments.union(definitions) - inside if self.graph.nodes[number].kind is not Kind.HOLD
        }
        self._lasting |= outside | inside
        self.schedule([2 * number for number in sorted(outside)])
        for number in sorted(outside):
            self.place(2 * number)
            self._sides(2 * number)

    def _pair(self, number: int) -> None:
        self.row[number], self._zero_row[number] = self.rows.take(), self.rows.take()

    def _sides(self, literal: Literal) -> tuple[int, int]:
        """Where a literal can be 1, and where 0."""
        number = literal >> 1
        if number in self._zero_row:
            one, zero = self.row[number] * ROW, self._zero_row[number] * ROW
        else:
            one, zero = self.row[number] * ROW, self._inverse(number) * ROW
        return (zero, one) if literal & 1 else (one, zero)

    def _inverse(self, number: int) -> int:
        if number not in self._inverted:
            node = self.graph.nodes[number]
            self._inverted[number] = row = ONES if number == 0 else self.rows.take()
            if node.kind is Kind.MASK:
                self.rows.masks[row] = self.graph.full & ~node.a
            elif number:
                self.code.add(Op.NOT, row * ROW, self.row[number] * ROW)
        return self._inverted[number]

    def _pair_operations(self, number: int) -> Sequence[Op]:
        """Where it can be 1, and where it can be 0."""
        match self.graph.nodes[number].kind:
            case Kind.AND:
                return Op.AND, Op.OR
            case Kind.READ:
                return (Op.READ,)
            case _:
                return Op.AND_OR, Op.AND_OR

    def _in_pairs(self, op: Op, number: int, place: int) -> None:
        node = self.graph.nodes[number]
        if op is Op.READ:
            self._read_in_pairs(number, node)
            return
        if number not in self._zero_row:
            self._pair(number)
        sides = [self._sides(argument) for argument in self.graph.arguments(node)]
        sources: tuple[int, ...]
        match node.kind:
            case Kind.AND:
                (a1, a0), (b1, b0) = sides
                sources = ((a1, b1), (a0, b0))[place]
            case Kind.XOR:
                (a1, a0), (b1, b0) = sides
                sources = ((a1, b0, a0, b1), (a1, b1, a0, b0))[place]
            case _:
                (a1, a0), (b1, b0), (c1, c0) = sides
                sources = ((c1, a1, c0, b1), (c1, a0, c0, b0))[place]
        row = (self.row, self._zero_row)[place][number]
        self.code.add(op, row * ROW, *sources)

    def _read_in_pairs(self, number: int, node: Node) -> None:
        """A word is open where a bit of its address is."""
        address = self.graph.reads[node.a].address
        fresh = node.a not in self._read_rows
        data = self._rows_of_read(node.a)[node.b]
        unknown = self._unknown(node.a, address) if fresh else self._unknown_rows[node.a]
        self._pair(number)
        self.code.add(Op.OR, self.row[number] * ROW, data * ROW, unknown * ROW)
        self.code.add(Op.NOT, self._zero_row[number] * ROW, data * ROW)
        self.code.add(Op.OR, self._zero_row[number] * ROW, self._zero_row[number] * ROW, unknown * ROW)

    def _unknown(self, read: int, address: Sequence[Literal]) -> int:
        row = self._unknown_rows[read] = self.rows.take()
        self.code.add(Op.COPY, row * ROW, ZEROS * ROW)
        for literal in address:
            one, zero = self._sides(literal)
            self.code.add(Op.AND_OR, row * ROW, one, zero, row * ROW, row * ROW)
        return row
