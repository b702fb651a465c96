"""Traces as Value Change Dump files (IEEE 1364, clause 18), one picosecond a unit of time. Same trace, same bytes."""

from __future__ import annotations

import io

from latchwork.base.position import Position
from latchwork.problems import Label, LatchworkError, Problem
from latchwork.traces.trace import Change, Signal, Trace

_UNITS_PS = {"s": 10**12, "ms": 10**9, "us": 10**6, "ns": 10**3, "ps": 1}


def to_vcd(trace: Trace, machine: str = "machine") -> bytes:
    """The trace as a file of one scope named after the machine."""
    from vcd import VCDWriter

    text = io.StringIO()
    with VCDWriter(text, timescale="1 ps", date="", version="Latchwork") as writer:
        scope = _word(machine)
        variables = [
            writer.register_var(scope, _word(signal.name), "wire", signal.width, init=signal.at(0))
            for signal in trace.signals
        ]
        for time_ps, changes in trace.moments():
            for index, levels in changes:
                writer.change(variables[index], time_ps, levels)
        writer.close(trace.end_ps)
    return text.getvalue().encode("ascii", "replace")


def _word(name: str) -> str:
    """Names in such files have no blanks."""
    return "_".join(name.split()) or "_"


def from_vcd(content: bytes, file: str = "") -> Trace:
    """The signals of a file, named without their scopes; parameters, events and numbers with a point are left out.

    Raises LatchworkError where it is no such file, with line and column.
    """
    from vcd.common import VarType
    from vcd.reader import TokenKind, VCDParseError, tokenize

    reader = _Reader()
    try:
        for token in tokenize(io.BytesIO(content)):
            if token.kind is TokenKind.TIMESCALE:
                reader.scale = int(token.timescale.magnitude) * _scale(token.timescale.unit.value)
            elif token.kind is TokenKind.VAR and token.var.type_ not in (VarType.real, VarType.event):
                reader.declare(token.var.id_code, token.var.ref_str, token.var.size)
            elif token.kind is TokenKind.CHANGE_TIME:
                reader.now = int(token.time_change * reader.scale)
            elif token.kind is TokenKind.CHANGE_SCALAR:
                reader.change(token.scalar_change.id_code, token.scalar_change.value)
            elif token.kind is TokenKind.CHANGE_VECTOR:
                reader.change(token.vector_change.id_code, token.vector_change.value)
    except VCDParseError as error:
        position = Position(file, error.loc.line, error.loc.column)
        message = f"this is not a value change dump: {str(error).split(': ', 1)[-1]}"
        raise LatchworkError(Problem("R301", message, (Label(position),))) from error
    if b"$enddefinitions" not in content:
        message = "this is not a value change dump: its head does not end with $enddefinitions"
        raise LatchworkError(Problem("R301", message, (Label(Position(file, 1)),)))
    return reader.trace()


def _scale(unit: str) -> float:
    return _UNITS_PS.get(unit, 0.001)


class _Reader:
    """What has been read so far. Several names may share an identifier code."""

    def __init__(self) -> None:
        self.scale: float = 1
        self.now = 0
        self._names: dict[str, tuple[int, list[str]]] = {}
        self._changes: dict[str, list[Change]] = {}

    def declare(self, code: str, name: str, width: int) -> None:
        self._names.setdefault(code, (width, []))[1].append(name)
        self._changes.setdefault(code, [])

    def change(self, code: str, value: object) -> None:
        if code not in self._names:
            return
        levels = _filled(value, self._names[code][0])
        changes = self._changes[code]
        if changes and changes[-1].time_ps == self.now:
            changes.pop()
        if not changes or changes[-1].levels != levels:
            changes.append(Change(self.now, levels))

    def trace(self) -> Trace:
        signals = [
            Signal(name, width, tuple(self._changes[code]))
            for code, (width, names) in self._names.items()
            for name in names
        ]
        return Trace(tuple(signals), self.now)


def _filled(value: object, width: int) -> str:
    """Short vectors are filled up on the left, with what stands there unless that is a one."""
    letters = format(value, "b") if isinstance(value, int) else str(value).lower()
    fill = letters[0] if letters[:1] in ("x", "z") else "0"
    return letters.rjust(width, fill)[-width:]
