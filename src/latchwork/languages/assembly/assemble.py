"""From text to a Program: read and lay out, encode, gather."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from latchwork.base.position import Position
from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.encode import Encoder
from latchwork.languages.assembly.errors import Findings, Refusal, TooManyProblems
from latchwork.languages.assembly.expressions import Number
from latchwork.languages.assembly.frames import Frame, Where
from latchwork.languages.assembly.items import Code, Shown
from latchwork.languages.assembly.layout import MOST_LINES, Endless, Layout
from latchwork.languages.assembly.moved import define_places, define_sizes
from latchwork.languages.assembly.names import Definition
from latchwork.languages.assembly.program import ListedLine, Program, Symbol
from latchwork.languages.assembly.scan import Line
from latchwork.languages.assembly.target import Target
from latchwork.problems import Label, LatchworkError, Problem


def assemble_file(
    path: Path, target: Target, constants: Mapping[str, int] | None = None, most_lines: int = MOST_LINES
) -> Program:
    """Assembles a file with all that it includes. ``constants`` are defined before its first line.

    Raises LatchworkError with every problem found, at most ``MOST_PROBLEMS``.
    """
    return _assembled(str(path), lambda layout: layout.file(path, Frame()), target, constants or {}, most_lines)


def assemble_text(
    text: str,
    target: Target,
    file: str = "text.asm",
    constants: Mapping[str, int] | None = None,
    most_lines: int = MOST_LINES,
) -> Program:
    """The same for a text that stands in no file; ``file`` is its name in problems."""
    return _assembled(file, lambda layout: layout.text(file, text, Frame()), target, constants or {}, most_lines)


def _assembled(
    source: str, read: Callable[[Layout], None], target: Target, constants: Mapping[str, int], most_lines: int
) -> Program:
    if not target.places:
        raise no_space()
    layout = Layout(target, Findings(), most_lines)
    _define(layout, constants)
    define_places(layout)
    encoder = Encoder(layout)
    try:
        _laid_out(source, read, layout)
        encoder.run()
    except TooManyProblems:
        pass
    layout.findings.stop_if_any()
    return _gathered(source, layout, encoder)


def no_space() -> LatchworkError:
    """Why a machine takes no programs."""
    help = "state one in machine.py: `m.space(...)`, and `m.section(...)` for a part of it"
    return LatchworkError(Problem("A170", "this machine states no address space for programs", (), help))


def _laid_out(source: str, read: Callable[[Layout], None], layout: Layout) -> None:
    try:
        read(layout)
        define_sizes(layout)
        layout.report_overflows()
        layout.report_late()
    except Refusal as refusal:
        label = Label(Position(source))
        layout.findings.add(Problem(refusal.code, refusal.message, (label,), refusal.help))
    except Endless:
        layout.findings.stop_if_any()


def _define(layout: Layout, constants: Mapping[str, int]) -> None:
    line = Line("", 0, "", (), "", 0, "", 0)
    for name, value in constants.items():
        layout.names.defined[name] = Definition(Where(line, Frame(), ""), 0, value, Number(value))


def _gathered(source: str, layout: Layout, encoder: Encoder) -> Program:
    bits = {place.space: place.bits for place in layout.target.places}
    lines = tuple(_listed(layout, encoder, entry) for entry in layout.shown)
    words = {space: dict(sorted(memory.items())) for space, memory in encoder.words.items()}
    moved = tuple(place for place in layout.target.places if place.load_space)
    return Program(source, words, bits, tuple(_symbols(layout)), lines, layout.findings.warnings(), moved=moved)


def _listed(layout: Layout, encoder: Encoder, shown: Shown) -> ListedLine:
    line, frame, _ = shown.where
    place, address = shown.place, shown.address if line.labels else -1
    clocks = (0, 0)
    words: tuple[int, ...] = ()
    if shown.item >= 0:
        item, words = layout.items[shown.item], encoder.made[shown.item]
        place, address = item.place, item.address
        clocks = item.form.instruction.clocks if isinstance(item, Code) else clocks
    position = Position(line.file, line.number)
    return ListedLine(position, _readable(line.text), frame.depth, place.name, place.space, address, words, clocks)


def _readable(text: str) -> str:
    return text.translate(_MARKS) if not text.isprintable() else text


_MARKS = str.maketrans({grammar.OPEN: "", grammar.CLOSE: "", grammar.USE: "'"})


def _symbols(layout: Layout) -> list[Symbol]:
    found = []
    for name, definition in layout.names.defined.items():
        if grammar.USE not in name:
            if definition.value is None:
                continue
            position = definition.where.position(definition.column)
            found.append(Symbol(name, definition.value, definition.space, position))
    return found
