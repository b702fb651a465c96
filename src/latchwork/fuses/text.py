"""Logic as it is written: pins with their names, and what stands at the outputs, as functions of the inputs.

The form is the one of docs/programmable-logic.md. Variables of the functions are numbers of pins.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from difflib import get_close_matches

from latchwork.base.position import Position
from latchwork.fuses.device import DEVICES, Device
from latchwork.fuses.functions import ALWAYS, NEVER, Functions, TooLarge
from latchwork.fuses.words import Line, Word, lines_of
from latchwork.problems import LatchworkError, Problem

BLOCKS = ("device", "pins", "groups", "logic")
KEYWORDS = (*BLOCKS, "and", "or", "xor", "not", "takes", "when", "reset", "preset", "high", "low")
TAKEN = ("I", "IO", "VCC", "GND")
"""Names that a device has for all inputs, all macrocells, and supplies."""

DEEPEST = 60


@dataclass(frozen=True)
class Output:
    """``value``: what the pin shows, or what its register takes at the next edge; ``enable``: when it shows it."""

    name: Word
    pin: int
    registered: bool
    value: int
    enable: int


@dataclass
class Logic:
    """What a text says. ``reset`` and ``preset``: of all registers, with the words that say so."""

    device: Device
    pins: dict[str, int] = field(default_factory=dict)
    groups: dict[str, tuple[str, ...]] = field(default_factory=dict)
    functions: Functions = field(default_factory=Functions)
    outputs: dict[int, Output] = field(default_factory=dict)
    common: dict[str, tuple[Word, int]] = field(default_factory=dict)

    def name_of(self, pin: int) -> str:
        return next((name for name, number in self.pins.items() if number == pin), f"pin {pin}")


def read_logic(text: str, name: str) -> Logic:
    """The logic in a text of a file called ``name``. Raises LatchworkError with a problem for each wrong statement."""
    lines = lines_of(text, name)
    logic = Logic(_device(lines, name))
    problems: list[Problem] = []
    block = ""
    for line in lines:
        if line.heads:
            block = _block(line)
            continue
        try:
            _STATEMENTS[block](logic, _Reader(logic, line.words))
        except LatchworkError as error:
            problems += error.problems
        except TooLarge:
            message = "the function is too large to be worked out"
            hint = "make a part of it an output of its own"
            problems += line.words[0].refusal("F205", message, hint).problems
    if problems:
        raise LatchworkError(problems)
    return logic


def _device(lines: list[Line], name: str) -> Device:
    first = lines[0].words if lines else ()
    known = ", ".join(DEVICES)
    if len(first) != 2 or first[0].text != "device":
        place = first[0] if first else Word("", Position(name, 1, 1))
        raise place.refusal("F201", f"logic begins with `device` and its kind; {place.described()} stands here",
                            f"the kinds are {known}")  # fmt: skip
    kind = first[1].text.upper()
    if kind not in DEVICES:
        raise first[1].refusal("F202", f"there is no device {first[1].described()}", f"the kinds are {known}")
    return DEVICES[kind]


def _block(line: Line) -> str:
    word = line.words[0]
    if word.text not in BLOCKS:
        hint = "statements are indented" if word.is_name else ""
        raise word.refusal("F201", f"{word.described()} begins no block; blocks are {', '.join(BLOCKS)}", hint)
    if len(line.words) > 1 and word.text != "device":
        raise line.words[1].refusal("F201", f"behind `{word.text}` the line ends; its statements are indented below")
    return word.text


class _Reader:
    """The words of a statement, one after the other."""

    def __init__(self, logic: Logic, words: tuple[Word, ...]) -> None:
        last = words[-1]
        end = replace(last.position, column=last.position.column + len(last.text))
        self.logic, self.words, self.at, self.depth = logic, (*words, Word("", end)), 0, 0

    @property
    def next(self) -> Word:
        return self.words[self.at]

    def take(self) -> Word:
        word = self.next
        self.at = min(self.at + 1, len(self.words) - 1)
        return word

    def takes(self, *texts: str) -> Word | None:
        return self.take() if self.next.text in texts and self.next.text else None

    def name(self, what: str) -> Word:
        word = self.take()
        if not word.is_name or word.text in KEYWORDS:
            raise word.refusal("F201", f"{word.described()} stands where {what} is expected")
        return word

    def end(self) -> None:
        if self.next.text:
            raise self.next.refusal("F201", f"{self.next.described()} stands behind the end of the statement")

    # Expressions: or, xor, and, not, from the loosest to the tightest

    def condition(self) -> int:
        return self._joined("or", self._differing)

    def _differing(self) -> int:
        return self._joined("xor", self._both)

    def _both(self) -> int:
        return self._joined("and", self._inverted)

    def _joined(self, operator: str, part: Callable[[], int]) -> int:
        functions = self.logic.functions
        join = {"or": functions.either, "xor": functions.differ, "and": functions.both}[operator]
        value = part()
        while self.takes(operator):
            value = join(value, part())
        return value

    def _inverted(self) -> int:
        inverted = False
        while self.takes("not"):
            inverted = not inverted
        value = self._one()
        return self.logic.functions.invert(value) if inverted else value

    def _one(self) -> int:
        if opening := self.takes("("):
            self.depth += 1
            if self.depth > DEEPEST:
                raise opening.refusal("F205", f"parentheses are nested more than {DEEPEST} deep")
            value = self.condition()
            if not self.takes(")"):
                raise self.next.refusal("F201", f"{self.next.described()} stands where `)` is expected")
            self.depth -= 1
            return value
        if self.next.text in ("high", "low"):
            return ALWAYS if self.take().text == "high" else NEVER
        word = self.name("a name, `not` or `(`")
        if word.text in self.logic.groups:
            return self._compared(word)
        return self.logic.functions.variable(self.pin(word))

    def pin(self, word: Word) -> int:
        """The number of the pin with a name."""
        pins = self.logic.pins
        if word.text not in pins:
            near = get_close_matches(word.text, [*pins, *self.logic.groups], n=1)
            hint = f"did you mean `{near[0]}`?" if near else "names are given in the blocks `pins` and `groups`"
            raise word.refusal("F202", f"no pin and no group is called `{word.text}`", hint)
        return pins[word.text]

    def _compared(self, word: Word) -> int:
        operator = self.takes("==", "!=", "<", "<=", ">", ">=")
        if not operator:
            message = f"the group `{word.text}` is compared with a number; {self.next.described()} stands here"
            raise self.next.refusal("F201", message, f"write it as in `{word.text} == 0b10`")
        pins = [self.logic.pins[name] for name in self.logic.groups[word.text]]
        number, place = self.number(), self.words[self.at - 1]
        if number >= 1 << len(pins):
            bits = "1 bit" if len(pins) == 1 else f"{len(pins)} bits"
            message = f"`{word.text}` has {bits} and is never {place.text}"
            raise place.refusal("F203", message, f"its largest value is {(1 << len(pins)) - 1}")
        below, equal = self._below_and_equal(pins, number)
        functions = self.logic.functions
        value = {"=": equal, "<": below}.get(operator.text[-1] if operator.text in ("==", "<") else "")
        if value is not None:
            return value
        if operator.text == "<=":
            return functions.either(below, equal)
        if operator.text == ">=":
            return functions.invert(below)
        return functions.invert(equal if operator.text == "!=" else functions.either(below, equal))

    def _below_and_equal(self, pins: list[int], number: int) -> tuple[int, int]:
        """Whether the bits, highest first, are less than the number, and whether they are it."""
        functions, below, equal = self.logic.functions, NEVER, ALWAYS
        for place, pin in enumerate(pins):
            bit = functions.variable(pin)
            if number >> (len(pins) - 1 - place) & 1:
                below = functions.either(below, functions.both(equal, functions.invert(bit)))
                equal = functions.both(equal, bit)
            else:
                equal = functions.both(equal, functions.invert(bit))
        return below, equal

    def number(self) -> int:
        word = self.take()
        try:
            return int(word.text, 0) if word.text[:1].isdigit() else int("none")
        except ValueError:
            hint = "numbers are written 12, 0x0C or 0b1100"
            raise word.refusal("F201", f"{word.described()} stands where a number is expected", hint) from None


def _pins(logic: Logic, reader: _Reader) -> None:
    names = [reader.name("the name of a pin")]
    while reader.next.is_name:
        names.append(reader.name("the name of a pin"))
    for name in names:
        place, number = reader.next, reader.number()
        if not 0 < number <= logic.device.pins or number in (logic.device.pins // 2, logic.device.pins):
            message = f"pin {number} of a {logic.device.name} carries no signal"
            signals = f"1 to {logic.device.pins - 1} but {logic.device.pins // 2}"
            raise place.refusal("F202", message, f"names are given to the pins {signals}")
        if name.text in TAKEN or re.fullmatch(r"held_\d+|pin\d+", name.text):
            raise name.refusal("F204", f"`{name.text}` is a name that every device has; choose another")
        if name.text in logic.pins:
            raise name.refusal("F204", f"a pin is called `{name.text}` already")
        if number in logic.pins.values():
            raise place.refusal("F204", f"pin {number} is called `{logic.name_of(number)}` already")
        logic.pins[name.text] = number
    reader.end()


def _groups(logic: Logic, reader: _Reader) -> None:
    name = reader.name("the name of a group")
    if name.text in logic.pins or name.text in logic.groups:
        raise name.refusal("F204", f"something is called `{name.text}` already")
    if not reader.takes("="):
        raise reader.next.refusal("F201", f"{reader.next.described()} stands where `=` is expected")
    members = [reader.name("the name of a pin")]
    while reader.next.text:
        members.append(reader.name("the name of a pin"))
    for member in members:
        reader.pin(member)
    logic.groups[name.text] = tuple(member.text for member in members)


def _logic(logic: Logic, reader: _Reader) -> None:
    if common := reader.takes("reset", "preset"):
        _common(logic, reader, common)
        return
    name = reader.name("the name of an output")
    pin = reader.pin(name)
    if pin in logic.outputs:
        earlier = logic.outputs[pin].name.position.line
        raise name.refusal("F204", f"`{name.text}` is given already, in line {earlier}")
    verb = reader.take()
    if verb.text not in ("=", "takes"):
        raise verb.refusal("F201", f"{verb.described()} stands where `=` or `takes` is expected")
    value, enable = reader.condition(), ALWAYS
    if reader.takes("when"):
        enable = reader.condition()
    reader.end()
    logic.outputs[pin] = Output(name, pin, verb.text == "takes", value, enable)


def _common(logic: Logic, reader: _Reader, word: Word) -> None:
    if not reader.takes("when"):
        raise reader.next.refusal("F201", f"{reader.next.described()} stands where `when` is expected")
    if word.text in logic.common:
        raise word.refusal("F204", f"`{word.text}` is given already; a device has one for all registers")
    logic.common[word.text] = (word, reader.condition())
    reader.end()


def _nothing_here(logic: Logic, reader: _Reader) -> None:
    raise reader.next.refusal("F201", f"{reader.next.described()} stands in no block", "blocks are pins, groups, logic")


_STATEMENTS = {"": _nothing_here, "device": _nothing_here, "pins": _pins, "groups": _groups, "logic": _logic}
