"""Expressions made into Python functions: written as source text once for each expression, then reused.

A function takes an *environment* ``(v, k, s, q, m)`` and the *places* of one chip, and reads

- ``v[net]``: the bit a net is read as, ``k[net]``: whether that bit is known,
- ``s[slot]``: a state's bits, ``q[slot]``: which of them are known, ``m[index]``: the cells of a memory.

``places`` are the numbers of nets, slots and memories in the order of ``Function.layout``. In the *plain* reading
everything is known and ``k`` and ``q`` are left alone; in the *known* reading every value is a pair (bits, known).
Both are tested equal to ``logic.evaluate``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

from latchwork.engines.oracle.known import HELPERS
from latchwork.logic import Expression, Operation
from latchwork.logic.evaluate import mask
from latchwork.parts import OutputKind

Environment = tuple[list[int], list[int], list[int], list[int], Sequence[Mapping[int, Any]]]
Places = tuple[int, ...]
INLINE_DEPTH = 12


class Place(NamedTuple):
    """``kind`` is "port" (then ``bit`` counts), "state" or "memory"."""

    kind: str
    name: str
    bit: int = 0


class Function(NamedTuple):
    """``call(environment, places)``; what it returns is said by the function that made it."""

    call: Callable[[Environment, Places], Any]
    layout: tuple[Place, ...]
    source: str


@cache
def pair_function(expression: Expression, states: frozenset[str], known: bool) -> Function:
    """Returns (bits, mask of known bits). ``states``: names of variables that are states; the others are ports."""
    writer = _writer(states, known, expression)
    if known:
        bits, mask_text = writer.pair(expression)
        return writer.finished(f"return {bits}, {mask_text}")
    return writer.finished(f"return {writer.text(expression)}, {mask(expression.width)}")


@cache
def drive_function(
    value: Expression, enable: Expression | None, kind: OutputKind, states: frozenset[str], known: bool
) -> Function:
    """Returns (can be low, can be high, can be off), each a mask over the bits of the port."""
    writer = _writer(states, known, value, *([enable] if enable else []))
    full = mask(value.width)
    off = "0"
    if enable is not None:
        off = _write_enable(writer, enable, full, known)
    if known:
        bits, certain = writer.pair(value)
        low, high = f"{full} & ~{bits}", f"{bits} | {full} & ~{certain}"
    else:
        writer.line(f"z = {writer.text(value)}")
        low, high = f"z ^ {full}", "z"
    if kind is OutputKind.OPEN_COLLECTOR:
        return writer.finished(f"return {low}, 0, {high}")
    return writer.finished(f"return {low}, {high}, {off}")


def _write_enable(writer: _Writer, enable: Expression, full: int, known: bool) -> str:
    if not known:
        writer.line(f"if not {writer.text(enable)}: return 0, 0, {full}")
        return "0"
    bits, certain = writer.pair(enable)
    writer.line(f"if {certain} and not {bits}: return 0, 0, {full}")
    return f"0 if {bits} else {full}"


def _writer(states: frozenset[str], known: bool, *roots: Expression) -> _Writer:
    uses: Counter[Expression] = Counter(roots)
    seen: set[Expression] = set()
    waiting = list(roots)
    while waiting:
        node = waiting.pop()
        if node not in seen:
            seen.add(node)
            uses.update(node.args)
            waiting.extend(node.args)
    return (_KnownWriter if known else _PlainWriter)(states, uses)


class _Writer:
    """Collects the lines of one function and the places that it reads."""

    def __init__(self, states: frozenset[str], uses: Counter[Expression]) -> None:
        self.states = states
        self.uses = uses
        self.lines: list[str] = []
        self.layout: dict[Place, int] = {}
        self.done: dict[Expression, Any] = {}

    def line(self, text: str) -> None:
        self.lines.append(text)

    def place(self, kind: str, name: str, bit: int = 0) -> str:
        return f"a{self.layout.setdefault(Place(kind, name, bit), len(self.layout))}"

    def gathered(self, array: str, name: str, low: int, width: int) -> str:
        """Bits of a port put together from its nets."""
        bits = [f"{array}[{self.place('port', name, low + i)}]" + (f" << {i}" if i else "") for i in range(width)]
        return bits[0] if width == 1 else f"({' | '.join(bits)})"

    def finished(self, last: str) -> Function:
        names = "".join(f"a{i}, " for i in range(len(self.layout)))
        unpack = [f"({names}) = p"] if names else []
        body = ["v, k, s, q, m = e", *unpack, *self.lines, last]
        source = "def function(e, p):\n" + "".join(f"    {line}\n" for line in body)
        space: dict[str, Any] = dict(HELPERS)
        exec(compile(source, "<part behaviour>", "exec"), space)
        return Function(space["function"], tuple(self.layout), source)

    def text(self, node: Expression) -> str:
        raise NotImplementedError

    def pair(self, node: Expression) -> tuple[str, str]:
        raise NotImplementedError


class _PlainWriter(_Writer):
    """Numbers only. What is used once is written in place, so that only the branch taken is evaluated."""

    def __init__(self, states: frozenset[str], uses: Counter[Expression]) -> None:
        super().__init__(states, uses)
        self.depth: dict[Expression, int] = {}

    def text(self, node: Expression) -> str:
        if node not in self.done:
            self.done[node] = self._kept(node, self._written(node))
        return str(self.done[node])

    def _kept(self, node: Expression, text: str) -> str:
        depth = 1 + max((self.depth[argument] for argument in node.args if argument in self.depth), default=0)
        trivial = node.operation is Operation.CONSTANT or (node.operation is Operation.VARIABLE and node.width == 1)
        self.depth[node] = 0 if trivial else depth
        if trivial or (self.uses[node] < 2 and depth < INLINE_DEPTH):
            return text
        self.depth[node] = 0
        return self.fresh(text)

    def fresh(self, text: str) -> str:
        """A new name for a value."""
        name = f"x{len(self.lines)}"
        self.line(f"{name} = {text}")
        return name

    def _written(self, node: Expression) -> str:
        match node.operation:
            case Operation.CONSTANT:
                return str(node.data)
            case Operation.VARIABLE:
                name = str(node.data)
                if name in self.states:
                    return f"s[{self.place('state', name)}]"
                return self.gathered("v", name, 0, node.width)
            case Operation.SLICE:
                return self._slice(node)
            case Operation.CASE:
                return self._case(node)
            case Operation.READ:
                return f"m[{self.place('memory', str(node.data))}][{self.text(node.args[0])}]"
            case _:
                return f"({self._operated(node, [self.text(argument) for argument in node.args])})"

    def _slice(self, node: Expression) -> str:
        inner, low = node.args[0], int(node.data)  # type: ignore[arg-type]
        if inner.operation is Operation.VARIABLE and str(inner.data) not in self.states:
            return self.gathered("v", str(inner.data), low, node.width)
        shifted = f"{self.text(inner)} >> {low}" if low else self.text(inner)
        return f"({shifted} & {mask(node.width)})" if low + node.width < inner.width else f"({shifted})"

    def _case(self, node: Expression) -> str:
        assert isinstance(node.data, tuple)
        select = self.fresh(self.text(node.args[0]))
        arms = (
            f"{self.text(value)} if {select} == {key} else "
            for key, value in zip(node.data, node.args[1:-1], strict=True)
        )
        return f"({''.join(arms)}{self.text(node.args[-1])})"

    def _operated(self, node: Expression, args: list[str]) -> str:
        full = mask(node.width)
        match node.operation:
            case Operation.NOT:
                return f"{args[0]} ^ {full}"
            case Operation.AND:
                return " & ".join(args)
            case Operation.OR:
                return " | ".join(args)
            case Operation.XOR:
                return " ^ ".join(args)
            case Operation.ADD:
                return f"{' + '.join(args)} & {full}"
            case Operation.MUX:
                return f"{args[1]} if {args[0]} else {args[2]}"
            case Operation.REPLICATE:
                return f"{full} if {args[0]} else 0"
            case Operation.EQUAL:
                return f"1 if {args[0]} == {args[1]} else 0"
            case Operation.LESS:
                return f"1 if {args[0]} < {args[1]} else 0"
            case _:  # CONCAT
                return " | ".join(f"{text} << {shift}" for text, shift in zip(args, _shifts(node), strict=True))


def _shifts(node: Expression) -> Iterator[int]:
    at = 0
    for argument in node.args:
        yield at
        at += argument.width


class _KnownWriter(_Writer):
    """Pairs: one line a node, ``x`` its bits, ``y`` the mask of those that are known; bits that are not are 0."""

    def pair(self, node: Expression) -> tuple[str, str]:
        if node not in self.done:
            self.done[node] = self._written(node)
        bits, known = self.done[node]
        return bits, known

    def _assigned(self, node: Expression, text: str) -> tuple[str, str]:
        number = len(self.lines)
        self.line(f"x{number}, y{number} = {text}")
        return f"x{number}", f"y{number}"

    def _written(self, node: Expression) -> tuple[str, str]:
        full = mask(node.width)
        if node.operation is Operation.CONSTANT:
            return str(node.data), str(full)
        if node.operation is Operation.VARIABLE:
            return self._assigned(node, self._variable(node))
        pairs = [self.pair(argument) for argument in node.args]
        return self._assigned(node, self._operated(node, pairs, full))

    def _variable(self, node: Expression) -> str:
        name = str(node.data)
        if name in self.states:
            place = self.place("state", name)
            return f"s[{place}], q[{place}]"
        return f"{self.gathered('v', name, 0, node.width)}, {self.gathered('k', name, 0, node.width)}"

    def _operated(self, node: Expression, pairs: list[tuple[str, str]], full: int) -> str:
        bits, known = pairs[0]
        match node.operation:
            case Operation.NOT:
                return f"{bits} ^ {known}, {known}"
            case Operation.SLICE:
                return f"{bits} >> {node.data} & {full}, {known} >> {node.data} & {full}"
            case Operation.REPLICATE:
                return f"{full} * {bits}, {full} * {known}"
            case Operation.CONCAT:
                shifted = list(zip(pairs, _shifts(node), strict=True))
                values = " | ".join(f"{pair[0]} << {shift}" for pair, shift in shifted)
                return values + ", " + " | ".join(f"{pair[1]} << {shift}" for pair, shift in shifted)
            case Operation.MUX:
                yes, no = (f"({pair[0]}, {pair[1]})" for pair in pairs[1:])
                return f"({yes} if {bits} else {no}) if {known} else agreed({yes}, {no})"
            case Operation.CASE:
                values = ", ".join(f"({pair[0]}, {pair[1]})" for pair in pairs[1:])
                return f"case({bits}, {known}, {mask(node.args[0].width)}, {node.data!r}, ({values},))"
            case Operation.READ:
                place = self.place("memory", str(node.data))
                return f"read(m[{place}], {bits}, {known}, {mask(node.args[0].width)})"
            case Operation.EQUAL | Operation.LESS:
                other = f"{pairs[1][0]}, {pairs[1][1]}"
                return f"{node.operation.value}({bits}, {known}, {other}, {mask(node.args[0].width)})"
            case _:
                flat = ", ".join(f"({pair[0]}, {pair[1]})" for pair in pairs)
                return f"{node.operation.value}_all({full}, {flat})"
