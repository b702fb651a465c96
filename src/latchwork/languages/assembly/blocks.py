"""Lines to blocks: what stands between ``.if``, ``.macro``, ``.repeat`` and their ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.scan import Line
from latchwork.problems import Label, Problem

_DEEPEST = 30


@dataclass
class Block:
    """``branches``: a header and its lines; one of them, except after ``.if``. ``end``: the closing line."""

    branches: list[tuple[Line, list[Node]]]
    end: Line | None = None

    @property
    def header(self) -> Line:
        return self.branches[0][0]

    @property
    def kind(self) -> str:
        return self.header.word.lower()


Node = Line | Block
Complain = Callable[[Problem], None]


def blocks(lines: list[Line], complain: Complain) -> list[Node]:
    """The lines as a tree. What does not begin or end is a problem; the rest is kept."""
    return _Builder(complain).tree(lines)


@dataclass
class _Builder:
    complain: Complain
    top: list[Node] = field(default_factory=list)
    open: list[Block] = field(default_factory=list)

    def tree(self, lines: list[Line]) -> list[Node]:
        body = self.top
        for line in lines:
            word = line.word
            if word[:1] != ".":
                body.append(line)
                continue
            self._directive(line, word.lower())
            body = self.open[-1].branches[-1][1] if self.open else self.top
        for block in reversed(self.open):
            self._say(block.header, f"`{block.kind}` has no end", f"write `{grammar.CLOSERS[block.kind]}` or `.end`")
        return self.top

    def _directive(self, line: Line, word: str) -> None:
        if word in grammar.CLOSERS:
            self._begin(line, word)
        elif word == grammar.END or word in grammar.CLOSERS.values():
            self._close(line, word)
        elif word in grammar.ALTERNATIVES:
            self._alternative(line, word)
        else:
            self._body().append(line)

    def _body(self) -> list[Node]:
        return self.open[-1].branches[-1][1] if self.open else self.top

    def _begin(self, line: Line, word: str) -> None:
        block = Block([(line, [])])
        if len(self.open) >= _DEEPEST:
            if len(self.open) == _DEEPEST:
                message = f"blocks stand in one another more than {_DEEPEST} deep"
                self._say(line, message, "`.elif` needs no further `.end`")
        elif word == ".macro" and any(outer.kind in (".macro", ".repeat") for outer in self.open):
            self._say(line, f"a macro can't be declared inside of `{self.open[-1].kind}`", "declare it before")
        else:
            self._body().append(block)
        self.open.append(block)

    def _close(self, line: Line, word: str) -> None:
        if not self.open:
            self._say(line, f"`{word}` closes nothing", "no block is open here")
            return
        block = self.open[-1]
        if word not in (grammar.END, grammar.CLOSERS[block.kind]):
            help = f"`{grammar.CLOSERS[block.kind]}` or `.end` closes it"
            begin = Label(block.header.position(block.header.word_column), "the block begins here")
            self._say(line, f"`{word}` can't close `{block.kind}`", help, begin)
        block.end = line
        self.open.pop()

    def _alternative(self, line: Line, word: str) -> None:
        block = self.open[-1] if self.open else None
        if block is None or block.kind not in grammar.CONDITIONS:
            self._say(line, f"`{word}` stands in no `.if`", "")
        elif block.branches[-1][0].word.lower() == ".else":
            last = block.branches[-1][0]
            earlier = Label(last.position(last.word_column), "`.else` stands here")
            self._say(line, f"`{word}` after `.else`", "`.else` comes last", earlier)
        elif line.labels:
            self._say(line, f"a label can't stand before `{word}`", "write it in a line of its own")
        else:
            block.branches.append((line, []))

    def _say(self, line: Line, message: str, help: str, *earlier: Label) -> None:
        self.complain(Problem("A140", message, (Label(line.position(line.word_column)), *earlier), help))
