"""Logic read out of fuses, in the form in which it is written, so that it can be fitted again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from latchwork.base.position import Position
from latchwork.fuses.device import Cell, Device, Mode, cells, columns, mode_of
from latchwork.fuses.file import fuse_checksum
from latchwork.fuses.sources import device_with, fuses_in, refuse_without_mode
from latchwork.problems import Label, LatchworkError, Problem
from latchwork.reports.fuses import FusedOutput, FusesReport

NEVER, ALWAYS = "low", "high"


def readback(path: Path) -> FusesReport:
    """What a fuse file does. Raises LatchworkError."""
    fuses = fuses_in(path).fuses
    device = device_with(len(fuses))
    if device is None:
        message = f"no device has {len(fuses)} fuses"
        hint = "2194 are a 16V8, 2706 a 20V8, 5892 or 5828 a 22V10"
        raise LatchworkError(Problem("F112", message, (Label(Position(str(path))),), hint))
    refuse_without_mode(device, fuses, str(path))
    return _Readback(device, fuses).report(str(path))


@dataclass
class _Readback:
    device: Device
    fuses: str

    def __post_init__(self) -> None:
        mode = mode_of(self.device, self.fuses)
        assert mode is not None
        self.mode = mode
        self.registered = frozenset(
            cell.pin for cell in cells(self.device, mode) if self._is_clocked() and self.fuses[cell.kind] == "0"
        )
        self.cells = cells(self.device, mode, self.registered)
        self.pins = {column: pin for pin, column in columns(self.device, mode).items()}
        self.shown = [cell for cell in self.cells if self._enable(cell) != NEVER or cell.pin in self.registered]

    def _is_clocked(self) -> bool:
        return self.mode in (Mode.ONLY, Mode.REGISTERED)

    def report(self, file: str) -> FusesReport:
        return FusesReport(
            file=file,
            device=self.device.name,
            mode=self.mode.value if self.device.has_modes else "",
            fuses=len(self.fuses),
            checksum=f"{fuse_checksum(self.fuses):04X}",
            outputs=tuple(self._output(cell) for cell in self.shown),
            text="\n".join(self._lines()) + "\n",
        )

    def _output(self, cell: Cell) -> FusedOutput:
        terms = [term for row in cell.rows if (term := self._term(row)) != NEVER]
        shows = "register" if cell.pin in self.registered else "logic"
        return FusedOutput(self._name(cell.pin), cell.pin, shows, len(terms), len(cell.rows), self._is_high(cell))

    def _lines(self) -> Iterator[str]:
        logic = [*(self._statement(cell) for cell in self.shown), *self._common()]
        yield f"device {self.device.name}"
        yield "pins"
        supplies = (self.device.pins // 2, self.device.pins)
        pins = [pin for pin in range(1, self.device.pins) if pin not in supplies]
        for start in range(0, len(pins), 12):
            row = pins[start : start + 12]
            yield f"    {' '.join(map(self._name, row))}  {' '.join(map(str, row))}"
        yield "logic"
        for statement in logic:
            yield f"    {statement}"

    def _name(self, pin: int) -> str:
        return "clock" if pin == self.device.clock and self.registered else f"p{pin}"

    def _is_high(self, cell: Cell) -> bool:
        return self.fuses[cell.polarity] == "1"

    def _statement(self, cell: Cell) -> str:
        terms = list(dict.fromkeys(term for row in cell.rows if (term := self._term(row)) != NEVER))
        verb = "takes" if cell.pin in self.registered else "="
        enable = self._enable(cell)
        when = f"\n        when {enable}" if enable != ALWAYS else ""
        return f"{self._name(cell.pin)} {verb} {self._sum(terms, self._is_high(cell))}{when}"

    def _sum(self, terms: list[str], high: bool) -> str:
        if ALWAYS in terms or not terms:
            return ALWAYS if bool(terms) == high else NEVER
        joined = "\n        or ".join(terms)
        return joined if high else f"not ({joined})"

    def _enable(self, cell: Cell) -> str:
        if self.mode is Mode.SIMPLE:
            return NEVER if self.fuses[cell.kind] == "1" else ALWAYS
        return self._term(cell.enable_row) if cell.enable_row >= 0 else ALWAYS

    def _common(self) -> Iterator[str]:
        for word, row in (("reset", self.device.reset_row), ("preset", self.device.preset_row)):
            if row >= 0 and self.registered and self._term(row) != NEVER:
                yield f"{word} when {self._term(row)}"

    def _term(self, row: int) -> str:
        if self.device.has_modes and self.fuses[self.device.term_enables + row] == "0":
            return NEVER
        connected = [place for place, fuse in enumerate(self.device.row(row)) if self.fuses[fuse] == "0"]
        if any(place ^ 1 in connected for place in connected):
            return NEVER
        return " and ".join(map(self._literal, connected)) or ALWAYS

    def _literal(self, column: int) -> str:
        pin = self.pins[column & ~1]
        inverted = bool(column & 1)
        if self.device.reset_row >= 0 and pin in self.registered:
            cell = next(each for each in self.cells if each.pin == pin)
            inverted ^= self._is_high(cell)
        return f"not {self._name(pin)}" if inverted else self._name(pin)
