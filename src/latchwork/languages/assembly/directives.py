"""The directives that are no blocks: one small function each, and the table of their words."""

from __future__ import annotations

from pathlib import Path

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.errors import Refusal, listed, near
from latchwork.languages.assembly.expressions import Number, characters, unexpected, whole
from latchwork.languages.assembly.forms import Written
from latchwork.languages.assembly.frames import inner
from latchwork.languages.assembly.items import Claim, Data, Raw
from latchwork.languages.assembly.layout import DEEPEST, Directive, Layout
from latchwork.languages.assembly.scan import Line, split
from latchwork.languages.assembly.sources import read_bytes
from latchwork.problems import Label, Severity

_QUOTE = '"'


def _arguments(line: Line, least: int, most: int, written: str) -> list[tuple[str, int]]:
    """The arguments with their columns. Raises Refusal where there are too few or too many, or an empty one."""
    found = [(text, line.column + at) for text, at in split(line.rest)]
    for text, column in found:
        if not text:
            raise Refusal("A154", f"an argument of `{line.word}` is empty", column, f"it is written `{written}`")
    if not least <= len(found) <= most:
        column = found[most][1] if len(found) > most else line.column
        what = "too many arguments" if len(found) > most else "too few arguments"
        raise Refusal("A154", f"{what} for `{line.word}`", column, f"it is written `{written}`")
    return found


def _bare(text: str, column: int) -> tuple[str, int]:
    """The text without what holds an argument of a macro together."""
    marks = grammar.OPEN + grammar.CLOSE + " \t"
    return text.strip(marks), column + len(text) - len(text.lstrip(marks))


def _string(text: str, column: int, what: str) -> tuple[str, int]:
    """What stands between double quotes, and its column. Raises Refusal."""
    text, column = _bare(text, column)
    if len(text) < 2 or text[0] != _QUOTE or text[-1] != _QUOTE:
        raise Refusal("A154", f'{what} stands in "double quotes"', column)
    return text[1:-1], column + 1


# ---- where things go


def section(layout: Layout, line: Line) -> None:
    ((text, column),) = _arguments(line, 1, 1, ".section name")
    name, column = _bare(text, column)
    if name not in layout.places:
        hint = near(name, layout.places) or f"there is {listed(layout.places, 'and')}"
        raise Refusal("A150", f"this machine has no section `{name}`", column, hint)
    layout.counters[layout.place.name] = layout.address
    layout.place = layout.places[name]
    layout.address = layout.counters[name]


def origin(layout: Layout, line: Line) -> None:
    ((text, column),) = _arguments(line, 1, 1, ".org address")
    address, place = layout.now(text, column), layout.place
    if not place.start <= address <= place.end:
        message = f"{_hex(address)} lies outside of section `{place.name}`"
        raise Refusal("A153", message, column, f"it goes from {_hex(place.start)} to {_hex(place.end - 1)}")
    layout.address = address


def _hex(value: int) -> str:
    return f"${value:x}" if value >= 0 else f"-${-value:x}"


def align(layout: Layout, line: Line) -> None:
    arguments = _arguments(line, 1, 2, ".align multiple, value")
    multiple = layout.now(*arguments[0])
    if multiple < 1:
        raise Refusal("A114", f"an address can't be a multiple of {multiple}", arguments[0][1])
    gap = -layout.address % multiple
    if len(arguments) == 2:
        _repeated(layout, line, gap, arguments[1])
    else:
        layout.reserve(gap)


def fill(layout: Layout, line: Line) -> None:
    arguments = _arguments(line, 1, 2, ".fill count, value")
    count = _count(layout, line, arguments[0])
    _repeated(layout, line, count, arguments[1] if len(arguments) == 2 else ("0", 0))


def reserve(layout: Layout, line: Line) -> None:
    layout.reserve(_count(layout, line, *_arguments(line, 1, 1, f"{line.word} count")))


def _count(layout: Layout, line: Line, argument: tuple[str, int]) -> int:
    count = layout.now(*argument)
    if count < 0:
        raise Refusal("A114", f"`{line.word}` can't take {count} words", argument[1])
    return count


def _repeated(layout: Layout, line: Line, count: int, argument: tuple[str, int]) -> None:
    value = Written(whole(*argument, layout.reserved), argument[1])
    if count:
        _data(layout, [value] * count if layout.address + count <= layout.place.end else _too_many(layout, count))


def _too_many(layout: Layout, count: int) -> list[Written]:
    layout.reserve(count)
    return []


# ---- data


def _data(layout: Layout, values: list[Written], bits: int = 0, big: bool = False) -> None:
    place = layout.place
    units = -(-bits // place.bits) if bits else 1
    address = layout.reserve(units * len(values))
    where = layout.where()
    layout.items.append(Data(where, place, address, values, units, bits or place.bits, big))


def byte(layout: Layout, line: Line) -> None:
    _data(layout, _values(layout, line))


def zero_ended(layout: Layout, line: Line) -> None:
    _data(layout, [*_values(layout, line), Written(Number(0), line.column)])


def _values(layout: Layout, line: Line) -> list[Written]:
    """Numbers and strings, a value for each character."""
    values: list[Written] = []
    for text, column in _arguments(line, 1, grammar.LONGEST_LINE, f'{line.word} "text", 0'):
        bare, at = _bare(text, column)
        if bare[0:1] == _QUOTE:
            if len(bare) < 2 or bare[-1] != _QUOTE or not _one_string(bare):
                raise _bad_string(bare, at)
            values += [Written(Number(code), at) for code in characters(bare[1:-1], at + 1)]
        else:
            values.append(Written(whole(text, column, layout.reserved), column))
    return values


def _one_string(text: str) -> bool:
    found = grammar.code.match(text)
    return bool(found) and text.replace(r"\\", "").replace(r"\"", "").count(_QUOTE) == 2


def _bad_string(text: str, column: int) -> Refusal:
    if text.replace(r"\\", "").replace(r"\"", "").count(_QUOTE) == 1:
        return Refusal(
            "A105", "the text in quotes has no end", column, 'it ends with `"`; `\\"` stands for a quote in it'
        )
    return Refusal("A105", "something follows a text in quotes", column, "separate values by commas")


def word(layout: Layout, line: Line) -> None:
    _words(layout, line, big=False)


def big_word(layout: Layout, line: Line) -> None:
    _words(layout, line, big=True)


def _words(layout: Layout, line: Line, big: bool) -> None:
    arguments = _arguments(line, 1, grammar.LONGEST_LINE, f"{line.word} value, value")
    _data(layout, [Written(whole(*argument, layout.reserved), argument[1]) for argument in arguments], 16, big)


# ---- files


def _path(line: Line, text: str, column: int, what: str) -> tuple[Path, int]:
    name, column = _string(text, column, what)
    return Path(line.file).parent / name, column


def include(layout: Layout, line: Line) -> None:
    ((text, column),) = _arguments(line, 1, 1, '.include "file"')
    path, column = _path(line, text, column, "the name of the file")
    if layout.frame.depth >= DEEPEST // 2:
        raise Refusal("A143", "files include one another without end", column, "does a file include itself?")
    layout.file(path, inner(layout.frame, {}, Label(line.position(line.word_column), "included here")), column)
    layout.line = line


def include_bytes(layout: Layout, line: Line) -> None:
    arguments = _arguments(line, 1, 3, '.incbin "file", start, length')
    path, column = _path(line, *arguments[0], "the name of the file")
    data = read_bytes(path, column)
    start, length = 0, len(data)
    if len(arguments) > 1:
        start = layout.now(*arguments[1])
        length = max(len(data) - start, 0)
    if len(arguments) > 2:
        length = layout.now(*arguments[2])
    if start < 0 or length < 0 or start + length > len(data):
        message = f"`{path.name}` has {len(data)} bytes; {length} from {start} on are not there"
        raise Refusal("A153", message, arguments[1][1])
    address = layout.reserve(length)
    layout.items.append(Raw(layout.where(), layout.place, address, data[start : start + length]))


# ---- constants, assertions, messages


def constant(layout: Layout, line: Line) -> None:
    (name, column), value = _arguments(line, 2, 2, ".equ name, value")
    layout.constant(name, column, *value)


def claim(layout: Layout, line: Line) -> None:
    arguments = _arguments(line, 1, 2, '.assert condition, "message"')
    message = ""
    if len(arguments) == 2:
        message = _message(*arguments[1])
    expression = whole(*arguments[0], layout.reserved)
    layout.items.append(Claim(layout.where(), layout.place, layout.address, expression, message))


def _message(text: str, column: int) -> str:
    inside, column = _string(text, column, "the message")
    return bytes(characters(inside, column)).decode("latin-1").replace("\n", " ")


def error(layout: Layout, line: Line) -> None:
    raise Refusal("A161", _message(*_arguments(line, 1, 1, '.error "message"')[0]), line.word_column)


def warning(layout: Layout, line: Line) -> None:
    refusal = Refusal("A162", _message(*_arguments(line, 1, 1, '.warning "message"')[0]), line.word_column)
    layout.findings.add(layout.where().problem(refusal, Severity.WARNING))


def closed(layout: Layout, line: Line) -> None:
    """The end of a block, which did its work before."""
    if line.rest:
        raise unexpected(line.rest, 0, line.column, "the end of the line")


DIRECTIVES: dict[str, Directive] = {
    ".section": section,
    ".org": origin,
    ".align": align,
    ".byte": byte,
    ".word": word,
    ".bigword": big_word,
    ".text": byte,
    ".ascii": byte,
    ".asciz": zero_ended,
    ".fill": fill,
    ".space": reserve,
    ".reserve": reserve,
    ".include": include,
    ".incbin": include_bytes,
    ".equ": constant,
    ".assert": claim,
    ".error": error,
    ".warning": warning,
    **dict.fromkeys((grammar.END, *grammar.CLOSERS.values()), closed),
}
