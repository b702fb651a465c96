"""The listing: address, words, clocks, line and source side by side; and the symbol table."""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.languages.assembly.program import ListedLine, Program

_IN_A_ROW = 6
_HEAD = "address  words              clocks   line  source"


def listing(program: Program) -> str:
    """The whole program, one line a source line, as it was assembled.

    Lines that come from macros, repeats and included files carry a ``+`` for each level around them. ``clocks`` is
    what an instruction takes, least and most where it depends.
    """
    bits = max(program.bits.values(), default=8)
    return "\n".join(line.rstrip() for line in _lines(program, -(-bits // 4))) + "\n"


def _lines(program: Program, digits: int) -> Iterator[str]:
    yield f"; {program.source}"
    section, file = "", program.source
    yield _HEAD
    for line in program.lines:
        if line.section != section and line.address >= 0:
            section = line.section
            yield f"; section {section}"
        if line.position.file != file:
            file = line.position.file
            yield f"; file {file}"
        yield from _listed(line, digits)


def _listed(line: ListedLine, digits: int) -> Iterator[str]:
    per_row = max(_IN_A_ROW * 2 // digits, 1)
    rows = [line.words[start : start + per_row] for start in range(0, len(line.words), per_row)] or [()]
    address = f"{line.address:04x}" if line.address >= 0 else ""
    words = " ".join(f"{word:0{digits}x}" for word in rows[0])
    source = "+" * line.depth + (" " if line.depth else "") + line.text.expandtabs()
    yield f"{address:<8} {words:<18} {_clocks(line.clocks):>6} {line.position.line:>6}  {source}"
    for number, row in enumerate(rows[1:], start=1):
        words = " ".join(f"{word:0{digits}x}" for word in row)
        yield f"{line.address + number * per_row:04x}     {words}"


def _clocks(clocks: tuple[int, int]) -> str:
    least, most = clocks
    if not most:
        return ""
    return str(most) if least == most else f"{least}-{most}"


def symbol_table(program: Program) -> str:
    """Names with their values, labels with their space, in the order of the names."""
    width = max((len(symbol.name) for symbol in program.symbols), default=0)
    rows = (
        f"{symbol.name:<{width}}  {_value(symbol.value):>8}  {symbol.space or 'constant':<10}  {symbol.position}"
        for symbol in sorted(program.symbols)
    )
    return "".join(row.rstrip() + "\n" for row in rows)


def _value(value: int) -> str:
    return f"${value:04x}" if value >= 0 else str(value)
