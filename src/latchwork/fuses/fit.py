"""Fitting logic into a device: the mode, the product terms of each output, and the fuses that make them."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.fuses.device import V22, Cell, Device, Mode, cells, columns, mode_fuses
from latchwork.fuses.functions import ALWAYS, Term, TooLarge, sum_of_products
from latchwork.fuses.text import Logic, Output
from latchwork.fuses.words import Word
from latchwork.problems import LatchworkError, Problem


@dataclass(frozen=True)
class Use:
    """What an output takes. ``high``: its terms say when it is high, and not when it is low."""

    name: str
    pin: int
    registered: bool
    terms: int
    there: int
    high: bool


@dataclass(frozen=True)
class Fitted:
    device: Device
    mode: Mode
    fuses: str
    uses: tuple[Use, ...]


def fitted(logic: Logic) -> Fitted:
    """The fuses of the logic. Raises LatchworkError with all that the device can't make."""
    refused: list[tuple[Problem, ...]] = []
    for mode in _modes(logic):
        try:
            return _Fit(logic, mode).all()
        except LatchworkError as error:
            refused.append(error.problems)
    raise LatchworkError(min(refused, key=len))


def _modes(logic: Logic) -> tuple[Mode, ...]:
    """The modes that come into question, the one with most terms first."""
    if not logic.device.has_modes:
        return (Mode.ONLY,)
    if any(output.registered for output in logic.outputs.values()):
        return (Mode.REGISTERED,)
    if any(output.enable != ALWAYS for output in logic.outputs.values()):
        return (Mode.COMPLEX,)
    return Mode.SIMPLE, Mode.COMPLEX


class _Fit:
    def __init__(self, logic: Logic, mode: Mode) -> None:
        self.logic, self.device, self.mode = logic, logic.device, mode
        self.registered = frozenset(pin for pin, output in logic.outputs.items() if output.registered)
        self.cells = {cell.pin: cell for cell in cells(logic.device, mode, self.registered)}
        self.columns = columns(logic.device, mode)
        self.inverted: set[int] = set()  # pins that their columns show the wrong way round
        self.fuses = ["0"] * logic.device.sizes[0]
        self.problems: list[Problem] = []

    def all(self) -> Fitted:
        chosen = {pin: found for pin, output in self.logic.outputs.items() if (found := self._choice(output))}
        self.inverted = {pin for pin in self.registered if self.device is V22 and chosen.get(pin, (True,))[0]}
        self._clock()
        self._architecture()
        for pin, cell in self.cells.items():
            if pin in chosen:
                self._output(cell, self.logic.outputs[pin], *chosen[pin])
            else:
                self.fuses[cell.kind] = self.fuses[cell.polarity] = "1"
        for word, row in (("reset", self.device.reset_row), ("preset", self.device.preset_row)):
            self._common(word, row)
        if self.problems:
            raise LatchworkError(self.problems)
        return Fitted(self.device, self.mode, "".join(self.fuses), tuple(self._uses(chosen)))

    def _uses(self, chosen: dict[int, tuple[bool, list[Term]]]) -> list[Use]:
        found = []
        for pin, output in self.logic.outputs.items():
            high, terms = chosen[pin]
            there = len(self.cells[pin].rows)
            found.append(Use(output.name.text, pin, output.registered, len(terms), there, high))
        return found

    def _clock(self) -> None:
        if self.registered and self.device.clock not in self.logic.pins.values():
            output = self.logic.outputs[min(self.registered)]
            message = (
                f"`{output.name.text}` takes at the clock, and pin {self.device.clock}, which is the clock, has no name"
            )
            self._refuse(output.name, "F305", message, "name it among the pins, such as `clock 1`")

    def _architecture(self) -> None:
        for fuse, level in mode_fuses(self.device, self.mode).items():
            self.fuses[fuse] = str(level)
        if self.device.has_modes:
            enables = self.device.term_enables
            self.fuses[enables : enables + self.device.rows] = "1" * self.device.rows

    def _choice(self, output: Output) -> tuple[bool, list[Term]] | None:
        """The polarity and the terms of an output; None where it can't be made."""
        cell = self.cells.get(output.pin)
        if cell is None:
            outputs = ", ".join(map(str, sorted(self.cells)))
            self._refuse(output.name, "F301", f"pin {output.pin} of a {self.device.name} is no output",
                         f"outputs are the pins {outputs}")  # fmt: skip
            return None
        found = [(high, self._terms(output, high)) for high in self._polarities(output)]
        fitting = [(high, terms) for high, terms in found if terms is not None and len(terms) <= len(cell.rows)]
        if not fitting:
            least = min((len(terms) for _, terms in found if terms is not None), default=None)
            needs = f"{least} product terms" if least is not None else "more product terms than can be worked out"
            self._refuse(output.name, "F302", f"`{output.name.text}` needs {needs}, and pin {output.pin} has "
                         f"{len(cell.rows)}", self._roomier(len(cell.rows)))  # fmt: skip
            return None
        return fitting[0] if output.registered else min(fitting, key=lambda each: len(each[1]))

    def _roomier(self, there: int) -> str:
        most = max(self.cells.values(), key=lambda cell: len(cell.rows))
        if len(most.rows) > there:
            return f"pin {most.pin} has {len(most.rows)}; or make a part of it an output of its own"
        return "make a part of it an output of its own"

    def _polarities(self, output: Output) -> tuple[bool, ...]:
        """High first. Registers that are reset together stand at one level then, which is low at the pins."""
        fixed = output.registered and self.device is V22 and bool(self.logic.common)
        return (True,) if fixed else (True, False)

    def _terms(self, output: Output, high: bool) -> list[Term] | None:
        value = output.value if high else self.logic.functions.invert(output.value)
        return self._terms_of(value, len(self.cells[output.pin].rows))

    def _terms_of(self, function: int, room: int = 1) -> list[Term] | None:
        """Few product terms; None where there are too many to be worked out."""
        try:
            return sum_of_products(self.logic.functions, function, room)
        except TooLarge:
            return None

    def _output(self, cell: Cell, output: Output, high: bool, terms: list[Term]) -> None:
        self.fuses[cell.polarity] = "1" if high else "0"
        as_input = self.mode is Mode.COMPLEX or (self.mode in (Mode.ONLY, Mode.REGISTERED) and not output.registered)
        self.fuses[cell.kind] = "1" if as_input else "0"
        for row, term in zip(cell.rows, terms, strict=False):
            self._row(row, term, output.name)
        self._enable(cell, output)

    def _enable(self, cell: Cell, output: Output) -> None:
        if cell.enable_row < 0:
            if output.enable != ALWAYS:
                reason = f"it is shown while pin {cell.enable_pin} is low"
                message = f"`{output.name.text}` has no `when` of its own: {reason}"
                self._refuse(output.name, "F304", message, "a 22V10 has one for each output")
            return
        self._single(cell.enable_row, output.enable, output.name, f"the `when` of `{output.name.text}`")

    def _common(self, word: str, row: int) -> None:
        if word not in self.logic.common:
            return
        place, function = self.logic.common[word]
        if row < 0:
            self._refuse(place, "F304", f"a {self.device.name} has no {word}", "a 22V10 has one")
            return
        self._single(row, function, place, f"`{word}`")

    def _single(self, row: int, function: int, place: Word, what: str) -> None:
        """A row that stands alone, so that its function has to be one term."""
        terms = self._terms_of(function)
        if terms is None or len(terms) > 1:
            needs = "too many" if terms is None else len(terms)
            self._refuse(place, "F304", f"{what} needs {needs} product terms, and there is one",
                         "it is levels joined by `and`; make the rest an output of its own")  # fmt: skip
        elif terms:
            self._row(row, terms[0], place)

    def _row(self, row: int, term: Term, place: Word) -> None:
        fuses = self.device.row(row)
        self.fuses[fuses.start : fuses.stop] = "1" * len(fuses)
        for pin, level in term:
            column = self.columns.get(pin)
            if column is None:
                self._unreadable(pin, place)
                continue
            positive = bool(level) != (pin in self.inverted)
            self.fuses[fuses.start + column + (0 if positive else 1)] = "0"

    def _unreadable(self, pin: int, place: Word) -> None:
        name = self.logic.name_of(pin)
        known = {problem.message for problem in self.problems}
        reason = {Mode.REGISTERED: "while outputs take at the clock", Mode.COMPLEX: "while outputs are read or let go"}
        message = f"`{name}` on pin {pin} can't be read {reason.get(self.mode, 'in this device')}"
        if message not in known:
            readable = ", ".join(map(str, sorted(self.columns)))
            self._refuse(place, "F303", message, f"the pins {readable} can")

    def _refuse(self, place: Word, code: str, message: str, help: str = "") -> None:
        self.problems += place.refusal(code, message, help).problems
