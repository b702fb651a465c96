"""Function tables worked out from behaviours: control inputs tried out, data shown by name where they pass.

Results that hang on the same control inputs stand in one table. Inputs are decided one after the other, each time the
one that leaves least open; an input that makes no difference is x. Equal pieces of a package are shown once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from latchwork.analysis.one_part.program import nodes, roots
from latchwork.analysis.one_part.rewriting import rewritten
from latchwork.logic import Expression, Operation, concat, constant, variable
from latchwork.parts import Behaviour, Drive, Latch, OutputKind, Part, Register
from latchwork.reports.catalogue import FunctionTable
from latchwork.tools.catalogue.naming import infix, named
from latchwork.tools.catalogue.simplify import Known, simplified

MOST_ROWS = 48
MOST_INPUTS = 5  # single inputs that are tried out where nothing but gates stands between them and a result
Names = tuple[str, ...]
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_ODD_BIT = re.compile(r"^bit (\d+) ")
_BIT = re.compile(r"([A-Za-z_][A-Za-z0-9_]*)\[(\d+)\]")
UNKNOWN = "a function of "
FIXED = ("held", "let go")


@dataclass(frozen=True)
class Result:
    """What a table tells of: ``expressions`` are decided together; ``show`` makes the cell of what is left of them."""

    name: str
    expressions: tuple[Expression, ...]
    kind: str  # "drive", "open collector", "register", "latch"
    clocks: tuple[Expression, ...] = ()


def function_tables(part: Part) -> tuple[FunctionTable, ...]:
    """One table for results that hang on the same inputs, equal ones once."""
    part = replace(part, behaviour=_selects_by_pin(part))
    widths = {name: len(pins) for name, pins in part.ports.items()}
    shown = _shown_states(part)
    groups: dict[tuple[frozenset[str], tuple[Expression, ...]], list[Result]] = {}
    for result in _results(part):
        if shown.get(str(result.expressions[0].data)) == result.name and len(result.expressions) == 1:
            continue  # it shows a state, and the state's own table says more
        groups.setdefault((frozenset(_controls(result, widths)), result.clocks), []).append(result)
    tables = [_renamed(part, _table(part, sorted(controls), group), shown) for (controls, _), group in groups.items()]
    return tuple(_merged(tables))


def _selects_by_pin(part: Part) -> Behaviour:
    """Vectors that choose among several values, as single pins side by side."""
    every = nodes(roots(part.behaviour))
    choosing = {node.args[0] for node in every if node.operation is Operation.CASE}
    names = {str(node.data) for node in nodes(choosing) if node.operation is Operation.VARIABLE}
    split = {
        variable(name, len(pins)): concat(*(variable(part.pins[pin].name) for pin in pins))
        for name, pins in part.ports.items()
        if name in names and 1 < len(pins) <= MOST_INPUTS
    }
    return rewritten(part.behaviour, lambda node, arguments: None, split)


def _shown_states(part: Part) -> dict[str, str]:
    """State -> the port that always shows it as it is."""
    drives = [drive for drive in part.behaviour.drives if drive.kind is OutputKind.PUSH_PULL]
    behaviour = part.behaviour
    states = {each.name for each in behaviour.registers} | {each.name for each in behaviour.latches}
    return {
        str(drive.value.data): drive.port
        for drive in reversed(drives)
        if drive.value.operation is Operation.VARIABLE and str(drive.value.data) in states
    }


def _renamed(part: Part, table: FunctionTable, shown: dict[str, str]) -> FunctionTable:
    """States under the names of the ports that show them, bits of ports under the names of their pins."""

    def told(text: str) -> str:
        return text if text in FIXED else _NAME.sub(lambda word: shown.get(word[0], word[0]), text)

    def cell(text: str, head: str) -> str:
        text = _ODD_BIT.sub(lambda found: f"{_pin(part, head, found)} ", text) if head in part.ports else text
        return told(_BIT.sub(lambda found: _pin(part, found[1], found, 2), text))

    rows = tuple(tuple(cell(text, head) for text, head in zip(row, table.heads, strict=True)) for row in table.rows)
    return replace(table, title=told(table.title), heads=tuple(told(head) for head in table.heads), rows=rows)


def _pin(part: Part, port: str, found: re.Match[str], group: int = 1) -> str:
    """The sheet's name of a bit of a port; the text as it was where there is none."""
    pins, place = part.ports.get(port, ()), int(found[group])
    return part.pins[pins[place]].sheet if place < len(pins) else found[0].strip()


def _results(part: Part) -> Iterator[Result]:
    for drive in part.behaviour.drives:
        yield _drive(drive)
    for register in part.behaviour.registers:
        yield _register(register)
    for latch in part.behaviour.latches:
        yield _latch(latch)
    for memory in part.behaviour.memories:
        for write in memory.writes:
            clocks = (write.strobe,) if write.clocked else ()
            yield Result(memory.name, (write.strobe, write.data), "write", clocks)


def _drive(drive: Drive) -> Result:
    kind = "open collector" if drive.kind is OutputKind.OPEN_COLLECTOR else "drive"
    return Result(drive.port, (drive.value, *([] if drive.enable is None else [drive.enable])), kind)


def _register(register: Register) -> Result:
    levels = [part for level in register.levels for part in (level.active, level.value)]
    return Result(
        register.name,
        (*levels, *(update.data for update in register.updates)),
        "register",
        tuple(update.clock for update in register.updates),
    )


def _latch(latch: Latch) -> Result:
    levels = [part for level in latch.levels for part in (level.active, level.value)]
    return Result(latch.name, (*levels, latch.enable, latch.data), "latch")


# Which inputs are tried out


def _controls(result: Result, widths: dict[str, int]) -> set[str]:
    """Single inputs that select, enable or clear; of gates alone all inputs, if they are few."""
    found: set[str] = set()
    for expression in result.expressions:
        for node in nodes([expression]):
            if node.operation in (Operation.MUX, Operation.CASE):
                found |= _single_inputs(node.args[0], widths)
    if result.kind in ("register", "latch", "write") or len(result.expressions) > 1:
        deciding = result.expressions[:-1] if result.kind in ("register", "latch") else ()
        for expression in (*deciding, *(result.expressions[1:] if result.kind == "drive" else ())):
            if expression.width == 1:
                found |= _single_inputs(expression, widths)
        if result.kind == "write":
            found |= _single_inputs(result.expressions[0], widths)
    found |= {name for clock in result.clocks for name in _levels_of(clock, widths)}
    inputs = {name for expression in result.expressions for name in _single_inputs(expression, widths)}
    plain = result.kind in ("drive", "open collector") and result.expressions[0].width == 1
    if plain and len(inputs) <= MOST_INPUTS and result.expressions[0].operation is not Operation.VARIABLE:
        found |= inputs
    return found


def _levels_of(clock: Expression, widths: dict[str, int]) -> set[str]:
    """Inputs that gate a clock: those of a clock that is more than one input."""
    names = _single_inputs(clock, widths)
    return names if len(names) > 1 else set()


def _single_inputs(expression: Expression, widths: dict[str, int]) -> set[str]:
    found = set()
    for node in nodes([expression]):
        if node.operation is Operation.VARIABLE and node.width == 1 and widths.get(str(node.data)) == 1:
            found.add(str(node.data))
    return found


# Rows


def _table(part: Part, controls: list[str], results: list[Result]) -> FunctionTable:
    order = {pin.name: index for index, pin in enumerate(part.pins)}
    places = {
        part.pins[pin].name: (name, -bit) for name, pins in part.vectors for bit, pin in enumerate(_indices(part, pins))
    }
    ordered = sorted(controls, key=lambda name: (*places.get(name, (_bare(name), 0)), order.get(name, 0)))
    sheet = {pin.name: pin.sheet for pin in part.pins}
    clocked = any(result.clocks for result in results)
    rows: dict[Names, None] = {}
    every = tuple(e for result in results for e in result.expressions)
    if all(not result.clocks and named(result.expressions[0]).startswith(UNKNOWN) for result in results) and not any(
        _tells(results, left) for _, left in _decided(results, ordered, every, {})
    ):
        ordered = []
    for known, left in _decided(results, ordered, every, {}):
        for cells in _cells(results, left, known):
            levels = tuple(_letter(known, name) for name in ordered)
            rows[levels + cells if clocked else levels + cells[1:]] = None
    heads = (*(sheet[name] for name in ordered), *(["clock"] if clocked else []), *(_head(each) for each in results))
    kept = list(rows)
    title = ", ".join(result.name for result in results)
    return FunctionTable(title, heads, tuple(kept[:MOST_ROWS]), left_out=max(0, len(kept) - MOST_ROWS))


def _indices(part: Part, pins: Names) -> list[int]:
    return [part.pin_index[pin] for pin in pins]


def _head(result: Result) -> str:
    return result.name if result.kind in ("drive", "open collector") else f"{result.name} becomes"


def _letter(known: Known, name: str) -> str:
    return "x" if name not in known else "H" if known[name] else "L"


def _tells(results: list[Result], left: tuple[Expression, ...]) -> bool:
    """Whether a row says more than that a result is some function."""
    return any(not named(mine[0]).startswith(UNKNOWN) for mine in _apart(results, left))


def _apart(results: list[Result], left: tuple[Expression, ...]) -> Iterator[tuple[Expression, ...]]:
    """What is left for each of the results."""
    place = 0
    for result in results:
        yield left[place : place + len(result.expressions)]
        place += len(result.expressions)


def _decided(
    results: list[Result], controls: list[str], left: tuple[Expression, ...], known: dict[str, int]
) -> Iterator[tuple[dict[str, int], tuple[Expression, ...]]]:
    """Levels of some controls with what they leave of the expressions, until none of the controls matters."""
    left = _still_asked(results, left)
    mattering = [name for name in controls if name not in known and _matters(name, left)]
    if not mattering:
        yield known, left
        return
    name = min(mattering, key=lambda each: (_open_after(results, each, mattering, left), mattering.index(each)))
    for level in (0, 1):
        rest = tuple(simplified(expression, {name: level}) for expression in left)
        yield from _decided(results, controls, rest, {**known, name: level})


def _still_asked(results: list[Result], left: tuple[Expression, ...]) -> tuple[Expression, ...]:
    """Without what no longer counts: behind an active level, of a drive that lets go, of a closed latch."""
    kept: list[Expression] = []
    for result, mine in zip(results, _apart(results, left), strict=True):
        kept += _counting(result, mine)
    return tuple(kept)


def _counting(result: Result, mine: tuple[Expression, ...]) -> list[Expression]:
    nothing = [constant(0, each.width) for each in mine]
    if result.kind == "drive" and len(mine) > 1 and mine[1] is constant(0):
        return nothing
    if result.kind == "write" and mine[0] is constant(0):
        return nothing
    if result.kind not in ("register", "latch"):
        return list(mine)
    tail = len(result.clocks) if result.kind == "register" else 2
    for place in range(0, len(mine) - tail, 2):
        if mine[place] is constant(1):
            return [*mine[: place + 2], *nothing[place + 2 :]]
    if result.kind == "latch" and mine[-2] is constant(0):
        return [*mine[:-1], nothing[-1]]
    return list(mine)


def _matters(name: str, left: tuple[Expression, ...]) -> bool:
    return any(node is variable(name) for node in nodes(left))


def _open_after(results: list[Result], name: str, others: list[str], left: tuple[Expression, ...]) -> int:
    """How many controls matter still after either level of this one."""
    total = 0
    for level in (0, 1):
        rest = _still_asked(results, tuple(simplified(expression, {name: level}) for expression in left))
        total += sum(_matters(other, rest) for other in others)
    return total


def _cells(results: list[Result], left: tuple[Expression, ...], known: Known) -> Iterator[Names]:
    """The clock's cell and one for each result; several rows where a clock makes a difference."""
    columns = [list(_choices(result, mine, known)) for result, mine in zip(results, _apart(results, left), strict=True)]
    for row in range(max(len(column) for column in columns)):
        cells = [column[min(row, len(column) - 1)] for column in columns]
        yield (next((clock for clock, _ in cells if clock), "x"), *(text for _, text in cells))


def _choices(result: Result, expressions: tuple[Expression, ...], known: Known) -> Iterator[tuple[str, str]]:
    """(clock, text) of a result; a register has one for each of its clocks."""
    if result.kind == "drive":
        yield "", _driven(expressions)
    elif result.kind == "open collector":
        text = named(expressions[0])
        yield "", {"H": "let go"}.get(text, text)
    elif result.kind == "write":
        strobe, data = (named(each) for each in expressions)
        clock = _edge(simplified(result.clocks[0], known)) if result.clocks else ""
        yield clock, data if strobe != "L" or clock else "held"
    else:
        yield from _kept(result, expressions, known)


def _driven(left: tuple[Expression, ...]) -> str:
    enable = named(left[1]) if len(left) > 1 else "H"
    if enable == "L":
        return "let go"
    return named(left[0]) if enable == "H" else f"{named(left[0])} while {enable}"


def _kept(result: Result, left: tuple[Expression, ...], known: Known) -> Iterator[tuple[str, str]]:
    tail = len(result.clocks) if result.kind == "register" else 2
    levels, rest = left[: len(left) - tail], left[len(left) - tail :]
    for active, value in zip(levels[::2], levels[1::2], strict=True):
        state = named(active)
        if state == "H":
            yield "", f"{named(value)}, at once" if result.kind == "register" else named(value)
            return
        if state != "L":
            yield "", f"{named(value)} while {state}"
    if result.kind == "latch":
        enable = named(rest[0])
        follows = {"H": f"{named(rest[1])}, followed", "L": "held"}
        yield "", follows.get(enable, f"{named(rest[1])} while {enable}")
        return
    for clock, data in zip(result.clocks, rest, strict=True):
        edge = _edge(simplified(clock, known))
        if edge:
            text = named(data)
            yield edge, "held" if text == result.name else text


def _edge(clock: Expression) -> str:
    """What a clock does at its moment; nothing where it is fixed."""
    if clock.operation is Operation.CONSTANT:
        return ""
    if clock.operation is Operation.NOT and clock.args[0].operation is Operation.VARIABLE:
        return f"{clock.args[0].data} falls"
    return f"{infix(clock)} rises"


# Equal pieces


def _merged(tables: list[FunctionTable]) -> Iterator[FunctionTable]:
    """A table that differs from an earlier one only in digits of names is told as likewise."""
    kept: dict[tuple[object, ...], FunctionTable] = {}
    for table in tables:
        key = (tuple(map(_bare, table.heads)), tuple(tuple(map(_bare, row)) for row in table.rows))
        first = kept.get(key)
        if first is None:
            kept[key] = table
        else:
            likewise = (*first.likewise, table.title)
            kept[key] = FunctionTable(first.title, first.heads, first.rows, likewise, first.left_out)
    yield from kept.values()


def _bare(text: str) -> str:
    """Names without the numbers of units: 1A, A1 and A2_n alike; whole numbers stay."""
    return re.sub(r"(?<=[A-Za-z])\d+(?=\b|_)|\b\d+(?=[A-Za-z])", "#", text)
