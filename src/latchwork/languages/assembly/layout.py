"""The first pass: walks through the blocks, gives every statement its address, and keeps what is to be encoded.

Lengths are fixed by the form of an instruction and by the arguments of a directive, so that one walk settles all
addresses; names that come later may stand wherever a value changes no address.
"""

from __future__ import annotations

import linecache
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.blocks import Block, Node, blocks
from latchwork.languages.assembly.errors import Findings, Refusal, Told, Unknown, near, too_deep
from latchwork.languages.assembly.expressions import whole
from latchwork.languages.assembly.forms import forms_of, matched, reserved_words
from latchwork.languages.assembly.frames import Frame, Where, inner
from latchwork.languages.assembly.items import Code, Item, Late, Shown
from latchwork.languages.assembly.macros import Macro, arguments, parameters
from latchwork.languages.assembly.names import Definition, Names, View
from latchwork.languages.assembly.overflows import Overflows
from latchwork.languages.assembly.scan import Line, scan, split
from latchwork.languages.assembly.sources import check_line, read_text
from latchwork.languages.assembly.target import Target
from latchwork.problems import Label, Problem

MOST_LINES = 300_000
DEEPEST = 60


@dataclass
class Layout:
    """The state of the walk. ``shown``: every line walked over, with its address and item for the listing."""

    target: Target
    findings: Findings
    most_lines: int = MOST_LINES
    items: list[Item] = field(default_factory=list)
    shown: list[Shown] = field(default_factory=list)
    late: list[Late] = field(default_factory=list)
    macros: dict[str, Macro] = field(default_factory=dict)
    serial: int = 0
    walked: int = 0
    scanned: int = 0

    def __post_init__(self) -> None:
        self.forms = forms_of(self.target.instructions)
        self.reserved = reserved_words(self.target.instructions)
        self.names = Names(self.reserved)
        self.places = {place.name: place for place in self.target.places}
        self.place = self.target.places[0]
        self.counters = {place.name: place.start for place in self.target.places}
        self.address = self.place.start
        self.overflows = Overflows()
        self.scope = ""
        self.frame = Frame()
        self.line = Line("", 0, "", (), "", 0, "", 0)

    # ---- files, blocks, lines

    def file(self, path: Path, frame: Frame, column: int = 0) -> None:
        """Walks through a file. Raises Refusal where it can't be read."""
        self.text(str(path), read_text(path, column), frame)

    def text(self, file: str, text: str, frame: Frame) -> None:
        lines = []
        linecache.cache[file] = (len(text), None, text.split("\n"), file)  # what problems quote
        self.scanned += text.count("\n") + 1
        if self.scanned > 2 * self.most_lines:
            self.findings.add(self._endless())
            raise Endless
        for line in scan(file, text):
            try:
                if len(line.text) > 80 or not line.text.isprintable() or not line.text.isascii():
                    check_line(line.text)
                lines.append(line)
            except Refusal as refusal:
                if line.word.lower() in grammar.STRUCTURE:
                    lines.append(line)  # its block says it
                else:
                    self.findings.add(Where(line, frame, "").problem(refusal))
        self.walk(blocks(lines, self.findings.add), frame)

    def walk(self, nodes: list[Node], frame: Frame) -> None:
        """Walks through blocks, noting what can't be used."""
        outer, self.frame = self.frame, frame
        for node in nodes:
            try:
                if isinstance(node, Line):
                    self.statement(node)
                else:
                    self.block(node)
            except Refusal as refusal:
                self.refused(refusal, node.word if isinstance(node, Line) else node.kind)
        self.frame = outer

    def refused(self, refusal: Refusal, purpose: str) -> None:
        if isinstance(refusal, Unknown):
            self.late.append(Late(self.where(), refusal, purpose))
        else:
            self.report(self.where(), refusal)

    def report(self, where: Where, refusal: Refusal) -> None:
        """Notes what can't be used."""
        if isinstance(refusal, Unknown):
            refusal = Refusal("A111", refusal.message, refusal.column, self.names.hint(refusal.name))
        if not isinstance(refusal, Told):
            self.findings.add(where.problem(refusal))

    def where(self) -> Where:
        return Where(self.line, self.frame, self.scope)

    def step(self, line: Line) -> Line:
        """Puts arguments into the line that is to be walked over, and counts it."""
        self.line = line
        self.walked += 1
        if self.walked > self.most_lines:
            self.findings.add(self._endless())
            raise Endless
        if self.frame.pattern is not None:
            self.line = line = self.frame.line(line)
        return line

    def _endless(self) -> Problem:
        message = f"the program has more than {self.most_lines} lines once macros and repeats are written out"
        return self.where().problem(
            Refusal("A143", message, self.line.word_column, "look for a macro that uses itself")
        )

    def statement(self, line: Line) -> None:
        line = self.step(line)
        for name, column in line.labels:
            self.label(name, column)
        made, at = len(self.items), len(self.shown)
        self.note(line)
        if line.word:
            self.use(line, line.word.lower())
        elif line.rest:
            raise Refusal("A101", f"`{line.rest[0]}` begins no statement", line.column, _BEGIN)
        if len(self.items) > made and self.items[made].where.line is line:
            self.shown[at] = self.shown[at]._replace(item=made)

    def use(self, line: Line, word: str) -> None:
        forms = self.forms.get(word)
        rest = line.rest
        if rest[:1] == "=" and rest[:2] != "==":
            self.constant(line.word, line.word_column, rest[1:], line.column + 1)
        elif forms:
            form, operands = matched(forms, rest, line.column, self.reserved)
            address = self.reserve(len(form.code))
            self.items.append(Code(Where(line, self.frame, self.scope), self.place, address, form, operands))
        elif word in self.macros:
            self.expand(self.macros[word])
        else:
            self.directive(line, word)

    def directive(self, line: Line, word: str) -> None:
        from latchwork.languages.assembly.directives import DIRECTIVES

        if word in DIRECTIVES:
            DIRECTIVES[word](self, line)
        elif line.rest[:4].lower() == ".equ" and not line.rest[4:5].strip():
            self.constant(line.word, line.word_column, line.rest[4:], line.column + 4)
        else:
            raise self._not_known(line, word, DIRECTIVES)

    def _not_known(self, line: Line, word: str, directives: dict[str, Directive]) -> Refusal:
        if word[0] == ".":
            hint = near(word, [*directives, *grammar.CLOSERS, *grammar.ALTERNATIVES])
            return Refusal("A102", f"there is no directive `{line.word}`", line.word_column, hint)
        hint = near(word, [*self.forms, *self.macros])
        following = grammar.word.match(line.rest)
        if (following and following[0].lower() in self.forms) or line.rest[:1] == ".":
            hint = f"a label ends with a colon: `{line.word}:`"
        hint = hint or "a label ends with a colon; a macro is declared before its use"
        message = f"`{line.word}` is no instruction of this machine and no macro"
        return Refusal("A102", message, line.word_column, hint)

    # ---- names

    def label(self, name: str, column: int) -> None:
        local = name[0] == "."
        if local and not self.scope:
            message = f"`{name}` is a local label, and no label stands before it"
            self.refused(Refusal("A122", message, column, "write a label without a point first"), "")
            return
        if self.define(self.scope + name if local else name, column, Definition(self.where(), column, self.address)):
            self.names.defined[self.scope + name if local else name].space = self.place.space
        if not local and "." not in name:
            self.scope = name

    def define(self, name: str, column: int, definition: Definition) -> bool:
        """Notes a name; False, and a problem, where it is taken."""
        refusal = self._taken(name, column)
        if refusal:
            self.findings.add(self.where().problem(refusal))
            return False
        self.names.defined[name] = definition
        return True

    def _taken(self, name: str, column: int) -> Refusal | None:
        first = self.names.defined.get(name)
        if first:
            label = Label(first.where.position(first.column), "first defined here")
            return Refusal("A120", f"`{name}` is defined twice", column, "", [label])
        if name.lower() in self.reserved or name == grammar.HERE:
            kind = "the language" if name == grammar.HERE else "the machine's instructions"
            return Refusal("A121", f"`{name}` is a word of {kind} and can't be a name", column, "choose another name")
        return None

    def constant(self, name: str, name_column: int, text: str, column: int) -> None:
        """``name = expression``; it waits if it speaks of names that come later."""
        if not grammar.name.fullmatch(name):
            raise Refusal("A101", f"`{name}` is no name", name_column)
        if name[0] == "." and not self.scope:
            message = f"`{name}` is a local name, and no label stands before it"
            raise Refusal("A122", message, name_column, "write a label without a point first")
        expression = whole(text, column, self.reserved)
        full = self.scope + name if name[0] == "." else name
        definition = Definition(self.where(), name_column, None, expression, self.address)
        if self.define(full, name_column, definition):
            try:
                definition.value = expression.value(self.view())
            except Unknown:
                definition.value = None  # until its names are known
            except RecursionError:
                definition.broken = True
                raise too_deep(column) from None
            except Refusal:
                definition.broken = True
                raise

    # ---- values that must be known now

    def view(self) -> View:
        return View(self.names, self.scope, self.address)

    def now(self, text: str, column: int) -> int:
        """The value of an expression on which addresses depend. Raises Unknown or Refusal."""
        try:
            return whole(text, column, self.reserved).value(self.view())
        except RecursionError:
            raise too_deep(column) from None

    def reserve(self, words: int) -> int:
        """Takes the next words of the section. Raises Told where they are not there; that is reported at the end."""
        address = self.address
        self.address = min(address + words, self.place.end)
        if self.address < address + words:
            self.overflows.note(self.where(), self.place, address + words - self.address)
            raise Told
        return address

    def report_overflows(self) -> None:
        """Says of each full section how much is too much."""
        for where, refusal in self.overflows.refusals():
            self.report(where, refusal)

    # ---- blocks

    def block(self, block: Block) -> None:
        if block.kind == ".macro":
            self.declare(block)
        elif block.kind == ".repeat":
            self.repeat(block)
        else:
            self.condition(block)

    def header(self, line: Line) -> Line:
        written = line.text
        line = self.step(line)
        check_line(written)
        for name, column in line.labels:
            self.label(name, column)
        self.note(line)
        return line

    def note(self, line: Line) -> None:
        """A line for the listing, for now without words."""
        self.shown.append(Shown(self.where(), self.place, self.address, -1))

    def closed(self, block: Block) -> None:
        if block.end:
            self.header(block.end)

    def condition(self, block: Block) -> None:
        frame = self.frame
        for header, body in block.branches:
            line = self.header(header)
            if self.holds(line):
                self.walk(body, frame)
                break
        self.closed(block)

    def holds(self, line: Line) -> bool:
        word = line.word.lower()
        if word == ".else":
            if line.rest:
                raise Refusal("A154", "`.else` has no condition", line.column, "`.elif` has one")
            return True
        if word in (".ifdef", ".ifndef"):
            found = grammar.name.fullmatch(line.rest)
            if not found:
                raise Refusal("A154", f"`{word}` needs a name", line.column)
            return self.view().defined(line.rest) == (word == ".ifdef")
        return bool(self.now(line.rest, line.column))

    def repeat(self, block: Block) -> None:
        line = self.header(block.header)
        given = split(line.rest)
        if not 1 <= len(given) <= 2 or (len(given) == 2 and not grammar.plain_name.fullmatch(given[1][0])):
            raise Refusal("A154", "`.repeat` needs a number, and may name its counter", line.column, "`.repeat 8, bit`")
        count = self.now(given[0][0], line.column + given[0][1])
        if count < 0:
            raise Refusal("A114", f"`.repeat` can't do it {count} times", line.column)
        counter = given[1][0] if len(given) == 2 else ""
        for turn in range(count):
            self.turn(block, {**dict(self.frame.texts), **({counter: str(turn)} if counter else {})})
        self.closed(block)

    def turn(self, block: Block, texts: dict[str, str]) -> None:
        self.walked += 1  # an empty body is a line too
        if self.walked > self.most_lines:
            self.findings.add(self._endless())
            raise Endless
        scope = self.scope
        self.scope = self.unique("repeat")
        if scope:
            self.names.outer[self.scope] = scope
        self.walk(block.branches[0][1], inner(self.frame, texts, None))
        self.scope = scope

    def unique(self, word: str) -> str:
        self.serial += 1
        return f"{word}{grammar.USE}{self.serial}"

    # ---- macros

    def declare(self, block: Block) -> None:
        line = self.header(block.header)
        name, _, rest = line.rest.partition(" ")
        if not grammar.plain_name.fullmatch(name):
            raise Refusal("A141", "`.macro` needs a name", line.column, "`.macro name first, second=0`")
        self._refuse_macro_name(name, line.column)
        found = tuple(parameters(rest, line.column + len(name) + 1))
        self.macros[name.lower()] = Macro(found, block.branches[0][1], Where(line, self.frame, self.scope))

    def _refuse_macro_name(self, name: str, column: int) -> None:
        if name.lower() in self.forms:
            raise Refusal("A141", f"`{name}` is an instruction of this machine", column, "choose another name")
        first = self.macros.get(name.lower())
        if first:
            label = Label(first.where.position(first.where.line.column), "first declared here")
            raise Refusal("A120", f"the macro `{name}` is declared twice", column, "", [label])

    def expand(self, macro: Macro) -> None:
        """A use of a macro, in a scope of its own."""
        line = self.line
        name = macro.name
        texts = arguments(macro, line, self.scope, self.reserved)
        if self.frame.depth >= DEEPEST:
            message = f"macros use one another more than {DEEPEST} deep"
            raise Refusal("A143", message, line.word_column, "does a macro use itself without an end?")
        used = Label(line.position(line.word_column), f"used by `{name}` here")
        scope = self.scope
        self.scope = self.unique(name)
        self.walk(macro.body, inner(self.frame, texts, used))
        self.scope, self.line = scope, line

    # ---- the end

    def report_late(self) -> None:
        """Says of every value that was needed too early whether its name comes later or never."""
        for late in self.late:
            name, unknown = late.unknown.name, late.unknown
            definition = self.names.lookup(name)
            if definition and late.purpose.startswith(".") and definition.value is not None:
                refusal = Refusal(
                    "A112", f"`{late.purpose}` needs `{name}` here, which is defined later", unknown.column
                )
                refusal.help = "on this value addresses depend; define the name further up"
                refusal.labels = (Label(definition.where.position(definition.column), "defined here"),)
            else:
                refusal = unknown
            self.report(late.where, refusal)


class Endless(Exception):  # noqa: N818 - ends the walk
    """The program has more lines than there may be."""


Directive = Callable[[Layout, Line], None]
_BEGIN = "a statement begins with a label, an instruction, a directive or `name =`"
