"""The full texts of problems that the tests compare with: kept in files of cases, or written out in a test.

Two forms are known: the one of a terminal (the code and sentence, then a line a place, then help), and the line that
``str`` of the error gives (place, code and sentence, help in brackets).
"""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sentences import Sentence

TESTS = Path(__file__).parents[1]
_HEAD = re.compile(r"^(?P<place>.*?)(?<!\w)(?P<code>[A-Z]\d{3}) (?:warning: |note: )?(?P<said>.*)$", re.MULTILINE)
_PLACE = re.compile(r"^ {2}\S", re.MULTILINE)


@dataclass(frozen=True)
class Text:
    """``line``: the sentence and what stands behind it; ``place`` stands before the code; ``below`` are lines."""

    code: str
    line: str
    place: str
    below: str

    @property
    def has_place(self) -> bool:
        return bool(re.search(r"\S: $", self.place) or _PLACE.search(self.below))

    def shows(self, sentence: Sentence) -> bool:
        """Whether all that the source says is in the text: the sentence, a place, labels and help."""
        help = rf" \({sentence.help}\)" if sentence.help else r"( \(.*\))?"
        in_line = re.fullmatch(sentence.message + help, self.line)
        below = re.search(rf"^help: {sentence.help}$", self.below, re.MULTILINE) or not sentence.help
        if not in_line and not (below and re.fullmatch(sentence.message, self.line)):
            return False
        labelled = (re.search(f"(   |  |: ){label}$", self.below, re.MULTILINE) for label in sentence.labels)
        return (self.has_place or not sentence.has_place) and all(labelled)


def texts() -> dict[str, list[Text]]:
    """All texts of problems, by code."""
    found = defaultdict(list)
    for whole in (*_files(), *_written()):
        for text in texts_in(whole):
            found[text.code].append(text)
    return found


def texts_in(whole: str) -> Iterator[Text]:
    heads = list(_HEAD.finditer(whole))
    ends = [*(head.start() for head in heads[1:]), len(whole)]
    for head, end in zip(heads, ends, strict=False):
        below = whole[head.end() : end].partition("\n\n")[0]
        yield Text(head["code"], head["said"], head["place"], below)


def _files() -> Iterator[str]:
    for folder in (*TESTS.glob("*/mistakes"), TESTS / "rules" / "cases"):
        for path in sorted(folder.glob("*.txt")):
            yield path.read_text(encoding="utf-8")


def _written() -> Iterator[str]:
    for path in sorted(TESTS.rglob("test_*.py")):
        if path.parent != Path(__file__).parent:
            yield from _strings(ast.parse(path.read_text(encoding="utf-8")))


def _strings(tree: ast.Module) -> Iterator[str]:
    constants = {
        target.id: str(node.value.value)
        for node in tree.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    waiting: list[ast.AST] = [tree]
    while waiting:
        node = waiting.pop()
        text = _text(node, constants)
        if text:
            yield text
        else:
            waiting += ast.iter_child_nodes(node)


def _text(node: ast.AST, constants: dict[str, str]) -> str:
    """The text of an expression of texts; what is known only when it runs stands in it as its source."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(_text(part, constants) for part in node.values)
    if isinstance(node, ast.FormattedValue):
        return _text(node.value, constants) or "{" + ast.unparse(node.value) + "}"
    if isinstance(node, ast.Name):
        return constants.get(node.id, "")
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        sides = [_text(side, constants) for side in (node.left, node.right)]
        return "".join(sides) if all(sides) else ""
    return ""
