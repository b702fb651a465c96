"""Every sentence that Latchwork can say about a problem, read from its source.

A sentence is a message beside its code at one place of the source, as a regular expression: what stands in braces in
an f-string may be anything. A message that a function is given is looked up where the function is called; one that is
chosen from several gives several sentences.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product
from pathlib import Path

import latchwork
from latchwork.problems import registry

SOURCE = Path(latchwork.__file__).parent
ANYTHING = ".*"
MESSAGES = {"message", "why", "reason", "sentence"}
"""Parameters that are sentences themselves; others, inside of a sentence, may be anything."""
HELP_AT = {"Problem": 3, "wrong": 4, "refused": 3, "complain": 3, "_refused": 3, "Refusal": 3}
"""Where help stands among the arguments of what makes problems, the code being argument 0."""
Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Sentence:
    """``message`` and ``help`` are patterns; ``place`` names the line of the source."""

    code: str
    message: str
    place: str
    help: str = ""
    labels: tuple[str, ...] = ()
    has_place: bool = True

    @property
    def says_nothing(self) -> bool:
        """Nothing of the message stands in the source: it comes from the user or from a library."""
        return len(re.findall(r"[a-z]", self.message.replace(ANYTHING, ""))) < 4


@dataclass
class Module:
    """One file of the source. ``inside``: node -> the function it stands in; ``above``: its parent."""

    path: Path
    tree: ast.Module
    inside: dict[ast.AST, Function] = field(default_factory=dict)
    above: dict[ast.AST, ast.AST] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for node in ast.walk(self.tree):
            self.above |= dict.fromkeys(ast.iter_child_nodes(node), node)
        for function in ast.walk(self.tree):
            if isinstance(function, Function):
                self.inside |= {node: function for node in ast.walk(function) if node is not function}

    @property
    def dotted(self) -> str:
        return ".".join(("latchwork", *self.path.relative_to(SOURCE).with_suffix("").parts))

    @property
    def imports(self) -> set[str | None]:
        return {node.module for node in ast.walk(self.tree) if isinstance(node, ast.ImportFrom)}

    def place(self, node: ast.AST) -> str:
        return f"{self.path.relative_to(SOURCE).as_posix()}:{node.lineno}"  # type: ignore[attr-defined]

    def code(self, node: ast.AST) -> str:
        """The code that an expression gives, or "" where it is none."""
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and registry._CODE.fullmatch(node.value):
            return node.value
        if isinstance(node, ast.Name) and node.id == "CODE":
            return next((self.code(value) for value in self.constant("CODE")), "")
        return ""

    def reaching(self, name: str, use: ast.AST) -> list[ast.AST]:
        """What a name of a function may stand for at a place: the assignments above it that nothing undoes."""
        found: list[ast.AST] = []
        node = use
        while node in self.above and not isinstance(node, Function):
            parent = self.above[node]
            for block in _blocks(parent):
                if node in block and _gather(block[: block.index(node)], name, found):
                    return found
            node = parent
        return found

    def constant(self, name: str) -> list[ast.AST]:
        """What a name is at the top of the module."""
        found: list[ast.AST] = []
        _gather(self.tree.body, name, found)
        return found


def _blocks(node: ast.AST) -> Iterator[list[ast.stmt]]:
    yield from (value for _, value in ast.iter_fields(node) if isinstance(value, list) and value)


def _gather(block: list[ast.stmt], name: str, found: list[ast.AST]) -> bool:
    """Adds what the statements assign to a name, from the last one on; whether they do in any case."""
    for statement in reversed(block):
        values = [value for target, value in _assignments(statement) for value in _given(target, value, name)]
        found += values
        if values:
            return True
        if isinstance(statement, ast.If):
            ways = [way for way in (statement.body, statement.orelse) if not _leaves(way)]
            sure = [_gather(way, name, found) for way in ways]
            if sure and all(sure):
                return True
        elif not isinstance(statement, Function | ast.ClassDef):
            for inner in _blocks(statement):
                if isinstance(inner[0], ast.stmt):
                    _gather(inner, name, found)
    return False


def _leaves(block: list[ast.stmt]) -> bool:
    return bool(block) and isinstance(block[-1], ast.Return | ast.Raise | ast.Continue)


def _assignments(statement: ast.stmt) -> Iterator[tuple[ast.AST, ast.AST]]:
    if isinstance(statement, ast.Assign):
        yield from ((target, statement.value) for target in statement.targets)
    if isinstance(statement, ast.AnnAssign) and statement.value:
        yield statement.target, statement.value
    if isinstance(statement, ast.AugAssign):
        sum_of_both = ast.BinOp(statement.target, ast.Add(), statement.value)
        yield statement.target, sum_of_both


def _given(target: ast.AST, value: ast.AST, name: str) -> Iterator[ast.AST]:
    if isinstance(value, ast.IfExp) and isinstance(target, ast.Tuple):
        yield from _given(target, value.body, name)
        yield from _given(target, value.orelse, name)
    elif isinstance(target, ast.Name) and target.id == name:
        yield value
    elif isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
        for one, its in zip(target.elts, value.elts, strict=False):
            yield from _given(one, its, name)
    elif isinstance(target, ast.Tuple) and any(isinstance(one, ast.Name) and one.id == name for one in target.elts):
        yield ast.Name(id="?")


Found = list[tuple[str, str]]
"""Patterns, each with the place in the source where it stands."""


class Reader:
    """Finds the patterns that an expression of the source can give."""

    def __init__(self) -> None:
        files = sorted(SOURCE.rglob("*.py"))
        self.modules = [Module(path, ast.parse(path.read_text(encoding="utf-8"))) for path in files]

    def patterns(self, node: ast.AST | None, module: Module, deep: int = 0, whole: bool = True) -> Found:
        place = module.place(node) if hasattr(node, "lineno") else ""
        anything = [(ANYTHING, place)]
        if node is None or deep > 6:
            return anything
        if isinstance(node, ast.Constant):
            return [(re.escape(str(node.value)), place)]
        if isinstance(node, ast.JoinedStr):
            return self.joined([self.patterns(part, module, deep + 1, False) for part in node.values])
        if isinstance(node, ast.FormattedValue):
            named = isinstance(node.value, ast.Name) and node.value.id in MESSAGES
            return self.patterns(node.value, module, deep + 1) if named else anything
        if isinstance(node, ast.IfExp):
            return self.patterns(node.body, module, deep + 1) + self.patterns(node.orelse, module, deep + 1)
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
            return self.joined([self.patterns(side, module, deep + 1) for side in (node.left, node.right)])
        if isinstance(node, ast.BoolOp) and isinstance(node.op, ast.Or):
            return [found for value in node.values for found in self.patterns(value, module, deep + 1)]
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "format":
            text = self.patterns(node.func.value, module, deep + 1)
            return [(re.sub(r"\\\{.*?\\\}", ANYTHING, pattern), where) for pattern, where in text]
        if (
            isinstance(node, ast.Call)
            and _called(node) in ("strip", "replace")
            and isinstance(node.func, ast.Attribute)
        ):
            return self.patterns(node.func.value, module, deep + 1)
        if isinstance(node, ast.Name):
            return self.name(node, module, deep) or anything
        if isinstance(node, ast.Call):
            return self.returned(node, module, deep) or anything
        return anything

    def joined(self, parts: list[Found]) -> Found:
        found = []
        for choice in product(*parts):
            places = [where for pattern, where in choice if pattern != ANYTHING and where]
            places += [where for _, where in choice if where] + [""]
            found.append(("".join(pattern for pattern, _ in choice), places[-1] if len(places) == 1 else places[0]))
        return found[:40]

    def name(self, node: ast.Name, module: Module, deep: int) -> Found:
        function, values = module.inside.get(node), module.reaching(node.id, node)
        if not values and function is not None and node.id in _parameters(function):
            return self.passed(function, node.id, module, deep)
        return [
            pattern
            for value in values or module.constant(node.id)
            for pattern in self.patterns(value, module, deep + 1)
        ]

    def passed(self, function: Function, name: str, module: Module, deep: int) -> Found:
        """What the callers of a function give it for a parameter."""
        names = {function.name}
        if function.name == "__init__":
            classes = (each for each in ast.walk(module.tree) if isinstance(each, ast.ClassDef))
            names = {each.name for each in classes if function in each.body}
        parameters = [each for each in _parameters(function) if each not in ("self", "cls")]
        modules = [other for other in self.modules if other is module or module.dotted in other.imports]
        found = []
        for other in modules:
            for call in ast.walk(other.tree):
                if isinstance(call, ast.Call) and _called(call) in names:
                    given = _argument(call, parameters.index(name), name)
                    if given is not None:
                        found += [(pattern, other.place(call)) for pattern, _ in self.patterns(given, other, deep + 1)]
        return found

    def returned(self, node: ast.Call, module: Module, deep: int) -> Found:
        """What a function of the same module returns."""
        functions = [
            each for each in ast.walk(module.tree) if isinstance(each, Function) and each.name == _called(node)
        ]
        returns = [each.value for function in functions for each in ast.walk(function) if isinstance(each, ast.Return)]
        return [found for value in returns for found in self.patterns(value, module, deep + 1)]

    def sentences(self) -> Iterator[Sentence]:
        for module in self.modules:
            for call in ast.walk(module.tree):
                if isinstance(call, ast.Call):
                    yield from self.of(call, module)

    def of(self, call: ast.Call, module: Module) -> Iterator[Sentence]:
        """The sentences of a call that has a code and a message."""
        for at, argument in enumerate(call.args[:-1]):
            choices = [argument.body, argument.orelse] if isinstance(argument, ast.IfExp) else [argument]
            for code in filter(None, map(module.code, choices)):
                help = _argument(call, at + HELP_AT.get(_called(call), 99), "help")
                hints = {pattern for pattern, _ in self.patterns(help, module)} if help is not None else {""}
                hint = hints.pop() if len(hints) == 1 else ""
                further = [*call.args[at + 2 :], *(each.value for each in call.keywords if each.arg != "help")]
                places = [each for each in call.args[at + 2 : at + 3] if ast.unparse(each) != "()"]
                has_place = _called(call) != "Problem" or bool(places)
                labels = tuple(self.labels(further, module))
                for pattern, where in self.patterns(call.args[at + 1], module):
                    yield Sentence(code, pattern, where or module.place(call), hint, labels, has_place)

    def labels(self, nodes: list[ast.AST], module: Module) -> Iterator[str]:
        """Patterns of what stands beside places: the second of ``Label(place, text)`` and ``(place, text)``."""
        for node in nodes:
            labelled = isinstance(node, ast.Call) and _called(node) == "Label"
            pair = node.args if labelled else getattr(node, "elts", [])  # type: ignore[attr-defined]
            if len(pair) == 2 and isinstance(pair[1], ast.Constant | ast.JoinedStr) and _is_place(pair[0]):
                yield from (pattern for pattern, _ in self.patterns(pair[1], module))
            else:
                yield from self.labels(pair, module)


def _is_place(node: ast.AST) -> bool:
    return not isinstance(node, ast.Constant | ast.JoinedStr)


def _parameters(function: Function) -> list[str]:
    arguments = function.args
    return [each.arg for each in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs)]


def _called(call: ast.Call) -> str:
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


def _argument(call: ast.Call, at: int, name: str) -> ast.AST | None:
    named = [each.value for each in call.keywords if each.arg == name]
    return named[0] if named else call.args[at] if at < len(call.args) else None
